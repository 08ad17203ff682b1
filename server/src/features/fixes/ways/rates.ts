import type { Run } from '../../../job/outcome.ts'
import { perMinute } from '../../../rules/common/wording.ts'
import type { Bit } from '../../../stock/bit.ts'
import { writeWord } from '../../rewrites/numbers.ts'
import { editOf, insertion, written } from '../../rewrites/source.ts'
import { scaleOf, walk, wordOf } from '../../rewrites/walk.ts'
import { placeOf, roundDown, roundUp, type Scene, type Way, wordAt } from '../scene.ts'
import { Pen } from '../writing.ts'

/** A feed by the ratio of what is allowed and what was found; a speed the other way round, for the chip. */
export const rate: Way = scene => {
  const { found, limit } = scene.finding
  const word = wordAt(scene)
  if (!word || !found || !limit || Number.isNaN(word.value) || word.value <= 0) return []
  const round = found > limit ? roundDown : roundUp
  const pen = new Pen(scene.source)
  const old = written(scene.source.program, word)
  if (word.letter === 'S') {
    const speed = (found > limit ? roundUp : roundDown)((word.value * found) / limit)
    return [
      {
        title: `Turn at S${speed} instead of S${word.value}`,
        edits: [editOf(word.span, writeWord(pen.style, 'S', speed, 1e-6, old))],
      },
    ]
  }
  if (word.letter !== 'F') return []
  const scale = unitsAt(scene, word.span.line)
  const feed = round((word.value * scale * limit) / found)
  const value = feed / scale
  const edits = [editOf(word.span, writeWord(pen.style, 'F', value, value * 2e-4, old))]
  return [{ title: `Feed at ${perMinute(feed)} instead of ${perMinute(word.value * scale)}`, edits }]
}

export const speed: Way = scene => {
  const { found, limit } = scene.finding
  const word = wordAt(scene)
  if (word?.letter !== 'S' || limit === undefined || found === undefined) return []
  const text = writeWord(new Pen(scene.source).style, 'S', limit, 1e-6, written(scene.source.program, word))
  return [{ title: `Turn at S${limit} instead of S${word.value}`, edits: [editOf(word.span, text)] }]
}

/** A feed of its own for a way down; what comes after keeps its own. */
export const plungeFeed: Way = scene => {
  const place = placeOf(scene)
  if (!place?.bit || scene.finding.found === undefined || place.read.inverseTime) return []
  const { read, motion, bit } = place
  const { motions, states } = scene.source.program
  const now = states[motions.state[motion]].feed
  // The part of the feed that goes down was found; the whole of it is what is written.
  const feed = roundDown((now * bit.maxPlungeFeed) / scene.finding.found)
  if (!(feed > 0)) return []
  const pen = new Pen(scene.source)
  const word = wordOf(read.words, 'F')
  const writer = pen.writer(read)
  if (word) writer.replace(word, pen.feed(read, feed, written(scene.source.program, word)))
  else writer.add('F', pen.feed(read, feed))
  const edits = [...writer.edits(), ...pen.restore(read, undefined, feed)]
  return [{ title: `Go down at ${perMinute(feed)} instead of ${perMinute(now)}`, edits }]
}

/** A feed where none is in force: in the middle of the bit's chip load. */
export const missingFeed: Way = scene => {
  const place = placeOf(scene)
  const { run, bit, read, motion } = place ?? {}
  const speed = run && motion !== undefined ? turns(run, motion) : Number.NaN
  if (!read || !bit || !(speed > 0)) return []
  const feed = roundDown(((bit.chipLoad[0] + bit.chipLoad[1]) / 2) * bit.flutes * speed)
  const pen = new Pen(scene.source)
  const writer = pen.writer(read)
  writer.add('F', pen.feed(read, feed))
  return [{ title: `Feed at ${perMinute(feed)}, in the middle of what ${bit.name} takes`, edits: writer.edits() }]
}

export const missingSpeed: Way = scene => {
  const word = wordAt(scene)
  const speed = speedFor(scene)
  if (word?.letter !== 'M' || !speed) return []
  const pen = new Pen(scene.source)
  const text = `${pen.gap}${writeWord(pen.style, 'S', speed, 1e-6)}`
  return [{ title: `Start it at S${speed}`, edits: [insertion(word.span.line, word.span.end, text)] }]
}

/** Starts the spindle before the first move after whatever stopped it, or before the first at all. */
export const spindleOn: Way = scene => {
  const { source, runs } = scene
  const { motions, states, events } = source.program
  const from = scene.finding.range.start.line
  const stops = events.some(
    event => event.span.line === from && (event.kind === 'spindle' || event.kind === 'tool-change'),
  )
  const first = stops ? motions.line.subarray(0, motions.count).findIndex(line => line > from) : 0
  if (first < 0 || motions.count === 0 || runs.length === 0) return []
  const line = motions.line[first]
  const known = states[motions.state[first]].speed
  const chosen = known > 0 ? undefined : speedFor(scene)
  if (!(known > 0) && !chosen) return []
  const pen = new Pen(source)
  const words = chosen ? `M3${pen.gap}${writeWord(pen.style, 'S', chosen, 1e-6)}` : 'M3'
  const title = chosen
    ? `Start the spindle before line ${line + 1} at S${chosen}`
    : `Start the spindle before line ${line + 1}, at S${known}`
  return [{ title, edits: [pen.before(line, [words])] }]
}

/** A speed at which the feeds of the program make the chip that its bit takes, within what bit and machine do. */
function speedFor({ runs, outcome }: Scene): number | undefined {
  const spindle = outcome?.sheet.machine.spindle
  const [run] = runs
  if (!run || !spindle || spindle.manual) return undefined
  const { motions, states } = run.program
  for (let i = 0; i < motions.count; i++) {
    const bit: Bit | undefined = run.bitOfState[motions.state[i]]
    const { feed } = states[motions.state[i]]
    if (
      !bit ||
      motions.kind[i] === 0 ||
      !(run.engagement.volume[i] > 0) ||
      !(run.engagement.radial[i] > 0) ||
      !(feed > 0)
    )
      continue
    const wanted = feed / (((bit.chipLoad[0] + bit.chipLoad[1]) / 2) * bit.flutes)
    return Math.round(Math.max(spindle.min, Math.min(wanted, spindle.max, bit.maxSpeed)) / 100) * 100
  }
  return undefined
}

function turns(run: Run, motion: number): number {
  return run.program.states[run.program.motions.state[motion]].speed
}

function unitsAt({ source }: Scene, line: number): number {
  let units: 'mm' | 'inch' = 'mm'
  for (const read of walk(source)) {
    if (read.line > line) break
    units = read.units
  }
  return scaleOf(units)
}
