import { drop, isLevel, isUpright, lengthAcross, startOf } from '../../../rules/common/path.ts'
import { height, mm, number, perMinute } from '../../../rules/common/wording.ts'
import { type Edit, insertion, type Source, written } from '../../rewrites/source.ts'
import { motionWordOf, wordOf } from '../../rewrites/walk.ts'
import { type Place, type Proposal, placeOf, type Way } from '../scene.ts'
import { Pen } from '../writing.ts'

/** A rapid stops so far over the wood, mm. */
const OVER = 1
/** A ramp is a little flatter than the bit takes, for the rounding of its numbers. */
const FLATTER = 0.95
/** Degrees that a ramp is given at most, whatever the bit takes. Common practice, no source. */
const STEEPEST = 5
/** More passes than this are no way to come down. */
const MOST_PASSES = 60

/** A rapid down stops over the wood and goes on at feed. */
export const cuttingMove: Way = scene => {
  const place = placeOf(scene)
  const { limit: surface } = scene.finding
  if (!place?.bit || surface === undefined || place.read.kind !== 'straight' || !place.read.absolute) return []
  const { read, bit, motion, run } = place
  const { motions } = scene.source.program
  const word = wordOf(read.words, 'Z')
  if (!word || !isUpright(motions, motion) || !run) return []
  const stop = Math.ceil((surface + OVER) * 2 - 1e-6) / 2
  const pen = new Pen(scene.source)
  const feed = Math.floor(bit.maxPlungeFeed)
  const writer = pen.writer(read)
  const down = `G1${pen.gap}${pen.length(read, 'Z', read.to[2], word)}${pen.gap}${pen.feed(read, feed)}`
  const title = `Stop at ${height(stop)} and go down to ${height(read.to[2])} at ${perMinute(feed)}`
  if (stop < read.from[2]) {
    writer.replace(word, pen.length(read, 'Z', stop, word))
    const edits = [...writer.edits(), pen.after(read.line, [down]), ...pen.restore(read, 10, feed)]
    return [{ title, edits }, ...stopAndRamp(scene.source, place, stop, feed)]
  }
  const own = motionWordOf(read.words)
  if (own) writer.replace(own, 'G1')
  else writer.addCode('G1')
  writer.add('F', pen.feed(read, feed))
  return [
    {
      title: `Go down to ${height(read.to[2])} at ${perMinute(feed)}`,
      edits: [...writer.edits(), ...pen.restore(read, 10, feed)],
    },
  ]
}

/** The same, but along the next move and back: a bit that stands marks what it stands on. */
function stopAndRamp(source: Source, place: Place, stop: number, feed: number): Proposal[] {
  const { read } = place
  const way = wayOfZigzag(source, place)
  const word = wordOf(read.words, 'Z')
  if (!way || !word) return []
  const pen = new Pen(source)
  const writer = pen.writer(read)
  writer.replace(word, pen.length(read, 'Z', stop, word))
  const begin = `G1${pen.gap}${pen.length(read, 'Z', way.top, undefined)}${pen.gap}${pen.feed(read, feed)}`
  const lines = [begin, ...linesTo(pen, read, way.top, way.ends)]
  const title = `Stop at ${height(stop)} and come down along the next move and back, ${way.ends.length} times at ${number(way.angle, 1)} degrees`
  return [{ title, edits: [...writer.edits(), pen.after(read.line, lines), ...pen.restore(read, 10, feed)] }]
}

/** Down along the next straight move and back, or round the next full circle, no steeper than the bit takes. */
export const ramp: Way = scene => {
  const place = placeOf(scene)
  return place ? rampAt(scene.source, place) : []
}

/** The same for any way down of a program. */
export function rampAt(source: Source, place: Place): Proposal[] {
  if (!place.bit || !place.run || !place.read.absolute) return []
  if (place.read.kind === 'arc') return moreTurns(source, place)
  if (place.read.kind !== 'straight' || place.read.motion !== 10) return []
  const { motions } = source.program
  if (isUpright(motions, place.motion)) return [...helix(source, place), ...zigzag(source, place)].slice(0, 1)
  return longer(source, place)
}

const slope = ({ bit }: Place) => Math.tan((Math.min(bit!.maxRampAngle, STEEPEST) * FLATTER * Math.PI) / 180)

/** Where the wood begins under an upright way down, program coordinates, a little over it. */
function surfaceOf({ read, run, motion }: Place): number {
  const share = run!.engagement.firstContact[motion] || 0
  return Math.min(read.from[2], Math.ceil((read.from[2] - share * (read.from[2] - read.to[2])) * 10 + 0.999) / 10)
}

interface Zigzag {
  readonly top: number
  readonly ends: readonly (readonly number[])[]
  /** Degrees. */
  readonly angle: number
}

function wayOfZigzag(source: Source, place: Place): Zigzag | undefined {
  const { read, next } = place
  const { motions } = source.program
  if (next?.kind !== 'straight' || next.motion !== 10 || !next.absolute) return undefined
  // Over a way that goes down itself there is nothing that is not to be cut.
  const falls = drop(motions, next.motions[0])
  const length = lengthAcross(motions, next.motions[0])
  if (!(length > 0) || !(falls >= 0 || isLevel(motions, next.motions[0]))) return undefined
  const top = surfaceOf(place)
  const needed = Math.ceil((top - read.to[2]) / (length * slope(place)) - 1e-9)
  const passes = needed + (needed % 2)
  if (!(passes > 0 && passes <= MOST_PASSES)) return undefined
  const heights = Array.from({ length: passes }, (_, n) => top + ((read.to[2] - top) * (n + 1)) / passes)
  const ends = heights.map((z, n) => [...(n % 2 === 0 ? next.to : read.to).slice(0, 2), z])
  return { top, ends, angle: angleOf(read, top, passes * length) }
}

function zigzag(source: Source, place: Place): Proposal[] {
  const way = wayOfZigzag(source, place)
  if (!way) return []
  const title = `Come down along the next move and back, ${way.ends.length} times at ${number(way.angle, 1)} degrees, instead of straight down`
  return [{ title, edits: descent(source, place, way) }]
}

const angleOf = ({ to }: Place['read'], top: number, way: number) => (Math.atan2(top - to[2], way) * 180) / Math.PI

/** Lines that lead to places one after the other, of which only what changes is written. */
function linesTo(pen: Pen, read: Place['read'], top: number, ends: readonly (readonly number[])[]): string[] {
  let before: readonly number[] = [read.to[0], read.to[1], top]
  return ends.map(end => {
    const axes = [0, 1, 2].filter(axis => Math.abs(end[axis] - before[axis]) > 1e-6)
    before = end
    return axes.map(axis => pen.length(read, 'XYZ'[axis], end[axis], undefined)).join(pen.gap)
  })
}

/** The way down replaced: first to the top of the wood, then to and fro. */
function descent(source: Source, { read }: Place, { top, ends }: Zigzag): Edit[] {
  const pen = new Pen(source)
  const word = wordOf(read.words, 'Z')
  if (!word) return []
  const writer = pen.writer(read)
  const lines = linesTo(pen, read, top, ends)
  if (top < read.from[2] - 1e-6) {
    writer.replace(word, pen.length(read, 'Z', top, word))
    return [...writer.edits(), pen.after(read.line, lines)]
  }
  // It stands at the top already: the first of the places takes its line.
  const [first] = ends
  writer.replace(word, pen.length(read, 'Z', first[2], word))
  for (const axis of [0, 1]) {
    if (Math.abs(first[axis] - read.to[axis]) > 1e-6)
      writer.add('XYZ'[axis], pen.length(read, 'XYZ'[axis], first[axis]))
  }
  return [...writer.edits(), pen.after(read.line, lines.slice(1))]
}

/** Round the full circle that is cut next. */
function helix(source: Source, place: Place): Proposal[] {
  const { read, next } = place
  if (next?.kind !== 'arc' || !next.arc || !next.absolute || next.from[0] !== next.to[0] || next.from[1] !== next.to[1])
    return []
  const top = surfaceOf(place)
  const around = 2 * Math.PI * next.arc.radius
  const turns = Math.ceil((top - read.to[2]) / (around * slope(place)) - 1e-9)
  const word = wordOf(read.words, 'Z')
  if (!(turns > 0 && turns <= MOST_PASSES) || next.arc.plane !== 'XY' || !word) return []
  const pen = new Pen(source)
  const centre = ['I', 'J'].flatMap(letter => {
    const own = wordOf(next.words, letter)
    return own ? [source.program.lineText(next.line).slice(own.span.start, own.span.end)] : []
  })
  if (centre.length === 0) return []
  const code = `G${next.motion / 10}`
  const lines = Array.from({ length: turns }, (_, n) => {
    const z = pen.length(read, 'Z', top + ((read.to[2] - top) * (n + 1)) / turns, undefined)
    return [...(n === 0 ? [code] : []), z, ...centre].join(pen.gap)
  })
  const writer = pen.writer(read)
  const title = `Come down in ${turns === 1 ? 'one turn' : `${turns} turns`} round the circle that follows, at ${number(angleOf(read, top, turns * around), 1)} degrees, instead of straight down`
  if (top >= read.from[2] - 1e-6) {
    const end = source.program.lineText(read.line).length
    const gone: Edit = {
      range: { start: { line: read.line, character: 0 }, end: { line: read.line, character: end } },
      text: '',
    }
    const words = read.words
      .filter(({ letter }) => letter === 'F')
      .map(({ span }) => source.program.lineText(read.line).slice(span.start, span.end))
    return [
      {
        title,
        edits: [gone, insertion(read.line, end, [[lines[0], ...words].join(pen.gap), ...lines.slice(1)].join('\n'))],
      },
    ]
  }
  writer.replace(word, pen.length(read, 'Z', top, word))
  return [{ title, edits: [...writer.edits(), pen.after(read.line, lines)] }]
}

/** A turn of a helix that is too steep becomes several. */
function moreTurns(source: Source, { read, bit }: Place): Proposal[] {
  const { arc, from, to, words, line } = read
  const word = wordOf(words, 'Z')
  if (arc?.plane !== 'XY' || !bit || !word || from[0] !== to[0] || from[1] !== to[1]) return []
  const around = 2 * Math.PI * arc.radius
  const fall = from[2] - to[2]
  const steepest = Math.tan((Math.min(bit.maxRampAngle, STEEPEST) * Math.PI) / 180)
  const turns = Math.ceil(fall / (around * steepest) - 1e-9)
  if (!(turns > 1 && turns <= MOST_PASSES)) return []
  const pen = new Pen(source)
  const writer = pen.writer(read)
  const heightOf = (n: number) => from[2] - (fall * n) / turns
  writer.replace(word, pen.length(read, 'Z', heightOf(1), word))
  const centre = words.filter(({ letter }) => 'IJ'.includes(letter)).map(each => written(source.program, each))
  const lines = Array.from({ length: turns - 1 }, (_, n) =>
    [pen.length(read, 'Z', heightOf(n + 2), undefined), ...centre].join(pen.gap),
  )
  const angle = (Math.atan2(fall, turns * around) * 180) / Math.PI
  const title = `Go round ${turns} times instead of once, at ${number(angle, 1)} degrees`
  return centre.length > 0 ? [{ title, edits: [...writer.edits(), pen.after(line, lines)] }] : []
}

/** A ramp that is too steep goes to and fro until it is not. */
function longer(source: Source, place: Place): Proposal[] {
  const { read, motion } = place
  const { motions } = source.program
  const word = wordOf(read.words, 'Z')
  const length = lengthAcross(motions, motion)
  const fall = startOf(motions, motion)[2] - motions.z[motion]
  const needed = Math.ceil(fall / (length * slope(place)) - 1e-9)
  const passes = needed + (needed % 2 === 0 ? 1 : 0)
  if (!word || !(passes > 1 && passes <= MOST_PASSES)) return []
  const pen = new Pen(source)
  const heights = Array.from(
    { length: passes },
    (_, n) => read.from[2] + ((read.to[2] - read.from[2]) * (n + 1)) / passes,
  )
  const writer = pen.writer(read)
  writer.replace(word, pen.length(read, 'Z', heights[0], word))
  let before: readonly number[] = read.to
  const lines = heights.slice(1).map((z, n) => {
    const end = n % 2 === 0 ? read.from : read.to
    const across = [0, 1]
      .filter(axis => Math.abs(end[axis] - before[axis]) > 1e-6)
      .map(axis => pen.length(read, 'XYZ'[axis], end[axis], undefined))
    before = end
    return [...across, pen.length(read, 'Z', z, undefined)].join(pen.gap)
  })
  const title = `Ramp to and fro, ${passes} times over ${mm(length)}, at ${number(angleOf(read, read.from[2], passes * length), 1)} degrees`
  return [{ title, edits: [...writer.edits(), pen.after(read.line, lines)] }]
}
