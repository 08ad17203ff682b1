import { MotionKind } from '../../../machine/motions.ts'
import { isRapid, startOf } from '../../../rules/common/path.ts'
import { height, mm, perMinute } from '../../../rules/common/wording.ts'
import { travelHeight } from '../../reading/travelHeight.ts'
import { writeCode } from '../../rewrites/numbers.ts'
import { type Edit, editOf, written } from '../../rewrites/source.ts'
import { type LineRead, motionWordOf, scaleOf, walk, wordOf } from '../../rewrites/walk.ts'
import { type Place, type Proposal, placeOf, type Scene, type Way, wordAt } from '../scene.ts'
import { Pen } from '../writing.ts'

/** Heights are raised to half a millimetre: nobody travels at 6.13. */
const STEP = 0.5
const up = (mm: number) => Math.ceil(mm / STEP - 1e-6) * STEP

/** A height word raised by what is missing; where it is no word of height, a lift of its own after that line. */
export const higher: Way = scene => {
  const { found, limit, code } = scene.finding
  const place = placeOf(scene)
  if (found === undefined || limit === undefined || !place) return []
  const pen = new Pen(scene.source)
  const word = wordAt(scene)
  if (word?.letter === 'Z' && place.read.absolute && code !== 'motion/ends-low') {
    const z = up(word.value * scaleOf(place.read.units) + limit - found)
    const edits = [editOf(word.span, pen.length(place.read, 'Z', z, word))]
    return [{ title: `Raise it to ${height(z)}`, edits }]
  }
  if (code !== 'motion/ends-low' || !place.read.absolute) return []
  return [...raised(scene, pen), ...liftAtEnd(scene, pen)]
}

/** The lift that stops too low; where the height was come to by anything else, raising it would change the cut. */
function raised(scene: Scene, pen: Pen): Proposal[] {
  const word = wordAt(scene)
  const { read } = placeOf(scene) ?? {}
  if (word?.letter !== 'Z' || !read) return []
  const z = up(scene.finding.limit ?? 0)
  return [{ title: `Raise it to ${height(z)}`, edits: [editOf(word.span, pen.length(read, 'Z', z, word))] }]
}

function liftAtEnd(scene: Scene, pen: Pen): Proposal[] {
  const place = [...walk(scene.source)].filter(({ kind }) => kind !== 'none').at(-1)
  if (!place?.absolute) return []
  const z = up(scene.finding.limit ?? 0)
  const lift = `G0${pen.gap}${pen.length(place, 'Z', z, undefined)}`
  return [{ title: `Lift to ${height(z)} at the end`, edits: [pen.after(place.line, [lift])] }]
}

/** Up before the first move sideways, as high as the program itself travels. */
export const firstLift: Way = scene => {
  const place = placeOf(scene)
  const { motions } = scene.source.program
  let z = Number.NEGATIVE_INFINITY
  for (let i = 0; i < motions.count; i++) if (motions.kind[i] === MotionKind.rapid && motions.z[i] > z) z = motions.z[i]
  if (!place?.read.absolute || !Number.isFinite(z)) return []
  const pen = new Pen(scene.source)
  const edits = [pen.before(place.read.line, [`G0${pen.gap}${pen.length(place.read, 'Z', z, undefined)}`])]
  return [{ title: `Lift to ${height(z)} first`, edits: [...edits, ...codeAgain(place.read, pen)] }]
}

/** Up before a rapid that goes through wood or into a clamp, over it, and down again where the next cut begins. */
export const lift: Way = scene => {
  const place = placeOf(scene)
  if (!place?.run || !place.bit || !place.read.absolute || wordOf(place.read.words, 'Z')) return []
  if (!isRapid(place.run.program.motions, place.motion)) return []
  const { read, run, bit, motion } = place
  const { sheet } = scene.outcome ?? {}
  if (!sheet) return []
  const { offset } = run.program.states[run.program.motions.state[motion]]
  const z = up(travelHeight(run, sheet) - offset[2])
  const back = startOf(run.program.motions, motion)[2] - offset[2]
  if (!(z > back)) return []
  const pen = new Pen(scene.source)
  const edits: Edit[] = [pen.before(read.line, [`G0${pen.gap}${pen.length(read, 'Z', z, undefined)}`])]
  const down = wayDown(scene, place)
  const feed = Math.floor(bit.maxPlungeFeed)
  if (down) {
    const words = [`G1`, pen.length(down, 'Z', back, undefined), pen.feed(down, feed)]
    edits.push(pen.after(down.line, [words.join(pen.gap)]), ...pen.restore(down, 10, feed))
  }
  const how = down ? `, and go down to ${height(back)} again at ${perMinute(feed)}` : ''
  return [{ title: `Lift to ${height(z)} before it${how}`, edits }, ...asCut(scene, place, pen)]
}

/** The line after which the bit must be down again; undefined where the program itself sets its height before it cuts. */
function wayDown({ source }: Scene, { read }: Place): LineRead | undefined {
  let before = read
  for (const each of walk(source)) {
    if (each.line <= read.line || each.kind === 'none') continue
    const sets = wordOf(each.words, 'Z') !== undefined && each.from[0] === each.to[0] && each.from[1] === each.to[1]
    if (sets || each.kind === 'code') return undefined
    if (each.motion !== 0 || wordOf(each.words, 'Z')) return before
    before = each
  }
  return undefined
}

/** The same way at the feed in force. */
function asCut(scene: Scene, { read, motion }: Place, pen: Pen): Proposal[] {
  const { feed } = scene.source.program.states[scene.source.program.motions.state[motion]]
  if (!(feed > 0)) return []
  const writer = pen.writer(read)
  const own = motionWordOf(read.words)
  if (own) writer.replace(own, writeCode(written(scene.source.program, own), 1))
  else writer.addCode('G1')
  const alone = [...writer.edits(), ...pen.restore(read, 10, undefined)]
  const title = `Make it a cutting move at ${perMinute(feed)}`
  // The code of a line holds for those after it: where it was a slip, they were meant to cut as well.
  const many = pen.restore(read, 10, undefined).length > 0
  const all = {
    title: `Make it and the moves after it cut at ${perMinute(feed)}`,
    edits: writer.edits(),
    elseOnly: true,
  }
  return [{ title, edits: alone }, ...(many ? [all] : [])]
}

/** No word of height lower than the limit. */
export const shallower: Way = scene => {
  const { limit, found } = scene.finding
  if (limit === undefined || found === undefined) return []
  const pen = new Pen(scene.source)
  const edits: Edit[] = []
  for (const read of walk(scene.source)) {
    const word = wordOf(read.words, 'Z')
    if (!word || read.kind === 'none' || read.kind === 'code' || !read.absolute) continue
    // To the hundredth above it, for nothing is known better.
    const z = Math.ceil(limit * 100 - 1e-6) / 100
    if (word.value * scaleOf(read.units) < limit) edits.push(editOf(word.span, pen.length(read, 'Z', z, word)))
  }
  const many = edits.length === 1 ? '' : ` in ${edits.length} words`
  return edits.length > 0 ? [{ title: `Go no deeper than ${height(limit)}${many}`, edits }] : []
}

/** After a line that was put before it, a line needs its own code again, unless it has it or it is the same. */
function codeAgain(read: Parameters<Pen['writer']>[0], pen: Pen): Edit[] {
  if (motionWordOf(read.words) || read.motion === 0) return []
  const writer = pen.writer(read)
  writer.addCode(`G${read.motion / 10}`)
  return writer.edits()
}

/** A step is odd from so many times the others on: what `depth/odd-step` takes for its limit. */
const TIMES = 3

/** A level that steps down too far: one step of the others below the one before it, in all its words. */
export const usualStep: Way = scene => {
  const { found, limit } = scene.finding
  const word = wordAt(scene)
  const place = placeOf(scene)
  if (
    word?.letter !== 'Z' ||
    !place?.read.absolute ||
    found === undefined ||
    limit === undefined ||
    !(found >= limit && limit > 0)
  )
    return []
  const usual = limit / TIMES
  const scale = scaleOf(place.read.units)
  const z = Math.round((word.value * scale + found - usual) * 1000) / 1000
  const pen = new Pen(scene.source)
  const edits = [...walk(scene.source)].flatMap(read => {
    const own = wordOf(read.words, 'Z')
    return own && own.value === word.value ? [editOf(own.span, pen.length(read, 'Z', z, own))] : []
  })
  return [{ title: `Go to ${height(z)} instead, ${mm(usual)} below the level before it`, edits }]
}
