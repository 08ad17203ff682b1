import type { Run } from '../../../job/outcome.ts'
import { cutsSideways } from '../../../rules/common/inWood.ts'
import { drop, lengthAcross } from '../../../rules/common/path.ts'
import { perMinute } from '../../../rules/common/wording.ts'
import type { Bit } from '../../../stock/bit.ts'
import { writeWord } from '../../rewrites/numbers.ts'
import { type Edit, editOf, insertion, wordsByLine, written } from '../../rewrites/source.ts'
import { scaleOf, walk, wordOf } from '../../rewrites/walk.ts'
import { type Proposal, placeOf, roundDown, roundUp, type Scene, type Way, wordAt } from '../scene.ts'
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
  const now = word.value * scale
  const at = (feed: number): Proposal => {
    const value = feed / scale
    const edits = [editOf(word.span, writeWord(pen.style, 'F', value, value * 2e-4, old))]
    return { title: `Feed at ${perMinute(feed)} instead of ${perMinute(now)}`, edits }
  }
  const slip = { ...at(found > limit ? now / 10 : now * 10), elseOnly: true }
  return [at(round((now * limit) / found)), slip, ...everyFeed(scene, found > limit)]
}

/** A point that has slipped in every feed of a program. */
function everyFeed({ source }: Scene, down: boolean): Proposal[] {
  const words = wordsByLine(source).flat()
  const feeds = words.filter(({ letter, value }) => letter === 'F' && value > 0)
  if (feeds.length < 2) return []
  const { style } = new Pen(source)
  const edits = feeds.map(word => {
    const value = down ? word.value / 10 : word.value * 10
    return editOf(word.span, writeWord(style, 'F', value, value * 2e-4, written(source.program, word)))
  })
  const title = `Every feed ${down ? 'a tenth of' : 'ten times'} what it is, in ${feeds.length} words`
  return [{ title, edits, elseOnly: true }]
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
  const middle = `${perMinute(feed)}, in the middle of what ${bit.name} takes`
  return [{ title: `Feed at ${middle}`, edits: writer.edits() }, ...feedsOfAll(scene, bit, feed, middle)]
}

/** In a program without any feed: what cuts sideways at one, and each way down no faster than the bit goes down. */
function feedsOfAll({ source }: Scene, bit: Bit, cut: number, middle: string): Proposal[] {
  const { motions } = source.program
  const pen = new Pen(source)
  const edits: Edit[] = []
  let least = cut
  let inForce = Number.NaN
  for (const read of walk(source)) {
    if (read.words.some(({ letter }) => letter === 'F') || read.inverseTime) return []
    if (read.motion === 0 || read.kind === 'none' || read.kind === 'code') continue
    const [first] = read.motions
    const fall = drop(motions, first)
    const steep = fall > 0 ? fall / Math.hypot(fall, lengthAcross(motions, first)) : 0
    const feed = steep > 0 ? Math.min(cut, roundDown(bit.maxPlungeFeed / steep)) : cut
    if (feed === inForce) continue
    inForce = feed
    least = Math.min(least, feed)
    const writer = pen.writer(read)
    writer.add('F', pen.feed(read, feed))
    edits.push(...writer.edits())
  }
  const title = `Feed at ${middle}, and go down at ${perMinute(least)} and more, in ${edits.length} words`
  return [{ title, edits, elseOnly: true }]
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

/** A speed at which most of what the program cuts sideways makes the chip that its bit takes, within what both do. */
function speedFor({ runs, outcome }: Scene): number | undefined {
  const spindle = outcome?.sheet.machine.spindle
  const [run] = runs
  if (!run || !spindle || spindle.manual) return undefined
  const { motions, states } = run.program
  const wanted: { speed: number; length: number; most: number }[] = []
  for (let i = 0; i < motions.count; i++) {
    const bit = run.bitOfState[motions.state[i]]
    const { feed } = states[motions.state[i]]
    if (!bit || !(feed > 0) || !cutsSideways(run, i, bit)) continue
    const speed = feed / (((bit.chipLoad[0] + bit.chipLoad[1]) / 2) * bit.flutes)
    wanted.push({ speed, length: lengthAcross(motions, i), most: bit.maxSpeed })
  }
  const half = wanted.reduce((sum, { length }) => sum + length, 0) / 2
  let gone = 0
  for (const { speed, length, most } of wanted.sort((p, q) => p.speed - q.speed)) {
    gone += length
    if (gone < half) continue
    return Math.round(Math.max(spindle.min, Math.min(speed, spindle.max, most)) / 100) * 100
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
