import { MotionKind } from '../../machine/motions.ts'
import type { Program } from '../../machine/program.ts'
import { drop, isFeed, isLevel, isUpright, startOf } from '../../rules/common/path.ts'
import { SAME_LEVEL } from '../../rules/tolerances.ts'
import { SAME } from './change.ts'
import { styleOf, writeWord } from './numbers.ts'
import { retold } from './retell.ts'
import {
  attempt,
  type Edit,
  edited,
  insertion,
  isWhole,
  lineEndOf,
  mustRunInOrder,
  Refusal,
  type Rewritten,
  readAgain,
  type Source,
  sourceOf,
  wordsByLine,
} from './source.ts'
import { motionWordOf, scaleOf, type Triple, walk, wordOf } from './walk.ts'

/** Lines that cut at one height, with the way down to it: motions and lines from the first to the last, counted. */
export interface Block {
  /** mm, frame of the motions. */
  readonly z: number
  readonly first: number
  readonly last: number
  readonly firstLine: number
  readonly lastLine: number
}

/** More levels than these are a slip of the hand. */
const MOST_LEVELS = 200

/** Repeats the last level of these lines so much deeper, mm. */
export function deeper(source: Source, by: number): Rewritten {
  return attempt(() => {
    if (!(by > 0 && by < 500)) throw new Refusal('A level is repeated deeper by a length above 0.')
    mustRunInOrder(source)
    const blocks = blocksOf(source)
    const block = blocks.at(-1)
    if (!block) throw nothingLevel()
    return { edits: repeated(source, block, blocks.at(-2), [block.z - by]) }
  })
}

/**
 * Cuts the levels of these lines anew in steps of so much, mm, down to the same depth; the last step is what is left.
 * Where there is one level only, it is cut in steps from `top`.
 * @param top height at which the wood begins, program coordinates, mm
 */
export function stepped(source: Source, step: number, top = 0): Rewritten {
  return attempt(() => {
    if (!(step > 0)) throw new Refusal('A step is a length above 0.')
    mustRunInOrder(source)
    const blocks = blocksOf(source)
    const last = blocks.at(-1)
    if (!last) throw nothingLevel()
    const { program } = source
    const height = top + program.states[program.motions.state[last.first]].offset[2]
    const heights: number[] = []
    for (let z = height - step; z > last.z + SAME_LEVEL; z -= step) heights.push(z)
    if (!(last.z < height)) throw new Refusal('The last level does not lie below the height at which the wood begins.')
    if (heights.length > MOST_LEVELS) throw new Refusal(`That would be ${heights.length} levels: choose a larger step.`)
    heights.push(last.z)
    for (const block of blocks) sameWay(program, block, last)
    const kept = blocks[0]
    const edits = repeated(source, kept, undefined, heights.slice(1), heights[0], last)
    return { edits }
  })
}

const nothingLevel = () =>
  new Refusal('No cut in these lines goes sideways at one height: there is no level to repeat.')

/**
 * The levels of the lines in the order of the text: of a whole program, those of its last part that has any. Cuts at
 * one height with only rapids, ways down and links at other heights between are one.
 */
export function blocksOf(source: Source): Block[] {
  const { program } = source
  const { motions, operations } = program
  const parts =
    isWhole(source) && operations.length > 0 ? operations : [{ firstLine: source.first, lastLine: source.last }]
  for (const { firstLine, lastLine } of [...parts].reverse()) {
    const found: Block[] = []
    let descent = -1
    for (let i = 0; i < motions.count; i++) {
      const line = motions.line[i]
      if (line < firstLine || line > lastLine) continue
      if (!isFeed(motions, i)) {
        descent = -1
        continue
      }
      if (!isLevel(motions, i)) {
        if (descent < 0 && drop(motions, i) > 0) descent = i
        continue
      }
      const z = motions.z[i]
      const open = found.at(-1)
      if (open && Math.abs(open.z - z) <= SAME_LEVEL) found[found.length - 1] = { ...open, last: i, lastLine: line }
      else {
        const first = descent >= 0 ? descent : dropsIn(motions, i - 1) ? i - 1 : i
        found.push({ z, first, last: i, firstLine: motions.line[first], lastLine: line })
      }
      descent = -1
    }
    if (found.length > 0) return found
  }
  return []
}

/** A rapid straight down to where the cut begins, beside the wood or in what is cleared. */
function dropsIn(motions: Program['motions'], i: number): boolean {
  return i >= 0 && motions.kind[i] === MotionKind.rapid && isUpright(motions, i) && drop(motions, i) > 0
}

/** @throws Refusal where a level is not the same way as another but for its height */
function sameWay({ motions }: Program, one: Block, other: Block): void {
  const way = ({ first, last }: Block) => {
    const places: number[] = []
    for (let i = first; i <= last; i++)
      if (isLevel(motions, i)) places.push(motions.kind[i], motions.x[i], motions.y[i])
    return places
  }
  const [a, b] = [way(one), way(other)]
  if (a.length === b.length && a.every((value, n) => Math.abs(value - b[n]) <= SAME_LEVEL)) return
  throw new Refusal(
    `The level of line ${one.firstLine + 1} does not go the same way as that of line ${other.firstLine + 1}: only levels that are alike are cut in other steps.`,
  )
}

/**
 * Puts a level down again at other heights after itself, and moves it to one where that is wanted.
 * @param before the level before it, whose way down it goes on from
 * @param moved where the level itself goes
 * @param until the last of the levels that these stand for; the lines of all are replaced
 */
function repeated(
  source: Source,
  block: Block,
  before: Block | undefined,
  heights: readonly number[],
  moved = block.z,
  until = block,
): Edit[] {
  const { program, text } = source
  const { motions } = program
  const own = text.split(/\r\n|\n|\r/).slice(block.firstLine, block.lastLine + 1)
  const start = startOf(motions, block.first)
  const slopes = !isUpright(motions, block.first)
  const stepDown = before ? before.z - block.z : start[2] - block.z
  const steps = [moved, ...heights].map((z, n, all) => (n === 0 ? 0 : all[n - 1] - z))
  const steepest = Math.max(...steps)
  if (slopes && isLevelStart(program, block) === false && steepest > stepDown + SAME_LEVEL) {
    throw new Refusal(
      `The way down to this level falls ${stepDown.toFixed(2)} mm; one of ${steepest.toFixed(2)} mm would begin in the wood: choose at most ${stepDown.toFixed(2)}.`,
    )
  }
  const link = linkBack(source, block)
  const opening = openingOf(source, block, own[0])
  const end = lineEndOf(text)
  // First all of them as they are, so that each is told anew where it stands; lines are counted from the block's first.
  const copies = heights.map(() => [...link, opening, ...own.slice(1)])
  const lines = [...own, ...copies.flat()]
  const range = { start: { line: block.firstLine, character: 0 }, end: lineEndAt(program, until.lastLine) }
  let whole = edited(text, [{ range, text: lines.join(end) }])
  let at = block.firstLine
  const places = [
    { z: moved, length: own.length, skip: 0 },
    ...heights.map(z => ({ z, length: link.length + own.length, skip: link.length })),
  ]
  for (const { z, length, skip } of places) {
    whole = lowered(whole, source, at + skip, at + length - 1, z - block.z)
    at += length
  }
  const result = whole.split(/\r\n|\n|\r/).slice(block.firstLine, at)
  const after = [{ range, text: result.join(end) }]
  holdsLevels(source, after, block, [moved, ...heights])
  const unchanged = moved === block.z && until === block
  return unchanged ? [insertion(range.end.line, range.end.character, end + result.slice(own.length).join(end))] : after
}

function isLevelStart({ motions }: Program, { first }: Block): boolean {
  return isLevel(motions, first)
}

function lowered(text: string, { dialect }: Source, first: number, last: number, by: number): string {
  if (by === 0) return text
  const source = { ...sourceOf(text, readAgain({ text, dialect } as Source, []), dialect), first, last }
  return edited(text, retold(source, { change: { ...SAME, shift: [0, 0, by] } }))
}

/** The way from the end of a level back to where its way down begins: none where it ends there. */
function linkBack(source: Source, block: Block): string[] {
  const { program } = source
  const { motions, states } = program
  const style = styleOf(source)
  const from = startOf(motions, block.first)
  const [x, y] = [motions.x[block.last], motions.y[block.last]]
  if (Math.hypot(from[0] - x, from[1] - y) <= SAME_LEVEL) return []
  const state = states[motions.state[block.first]]
  const read = [...walk(source)].find(({ line }) => line === block.firstLine)
  if (!read?.absolute)
    throw new Refusal(
      `Line ${block.firstLine + 1} is in distances (G91), and the level does not end where it began: there is no way back to write.`,
    )
  let safe = Number.NEGATIVE_INFINITY
  for (let i = 0; i < motions.count; i++)
    if (motions.kind[i] === MotionKind.rapid && motions.z[i] > safe) safe = motions.z[i]
  if (!Number.isFinite(safe) || !from.every(Number.isFinite))
    throw new Refusal('At what height the bit may travel back is not known.')
  const scale = scaleOf(state.units)
  const word = (axis: number, value: number) =>
    writeWord(style, 'XYZ'[axis], (value - state.offset[axis]) / scale, 1e-5)
  const gap = style.spaced ? ' ' : ''
  return [
    `G0${gap}${word(2, safe)}`,
    `${word(0, from[0])}${gap}${word(1, from[1])}`,
    ...(from[2] < safe ? [word(2, from[2])] : []),
  ]
}

/** The first line of a level as it must stand when it is come to from its own end: with its code and its feed. */
function openingOf(source: Source, block: Block, text: string): string {
  const words = wordsByLine(source)[block.firstLine]
  const { motions, states } = source.program
  const style = styleOf(source)
  const gap = style.spaced ? ' ' : ''
  const code = motionWordOf(words)
  const kind = motions.kind[block.first]
  const [start, end] = [states[motions.state[block.first]], states[motions.state[block.last]]]
  let line = text
  const cuts = kind !== MotionKind.rapid && Number.isFinite(start.feed)
  if (cuts && !wordOf(words, 'F') && !Object.is(start.feed, end.feed) && !start.inverseTime) {
    const last = words.at(-1)?.span.end ?? line.length
    const feed = writeWord(style, 'F', start.feed / scaleOf(start.units), start.feed * 1e-4)
    line = `${line.slice(0, last)}${gap}${feed}${line.slice(last)}`
  }
  if (code) return line
  const first = words.find(({ letter }) => letter !== 'N')?.span.start ?? 0
  const names = ['G0', 'G1', 'G2', 'G3'] as const
  const name = names[kind] ?? 'G1'
  return `${line.slice(0, first)}${name}${gap}${line.slice(first)}`
}

/** Reads the result again: each level must go the way of the one it repeats, and what stands around them as it did. */
function holdsLevels(source: Source, edits: readonly Edit[], block: Block, heights: readonly number[]): void {
  const after = readAgain(source, edits)
  const { motions } = source.program
  const now = after.motions
  const wanted: Triple[] = []
  for (let i = block.first; i <= block.last; i++)
    if (isLevel(motions, i)) wanted.push([motions.x[i], motions.y[i], motions.z[i] - block.z])
  let at = block.first
  for (const z of heights) {
    for (const [x, y, dz] of wanted) {
      while (at < now.count && !(isFeed(now, at) && near([now.x[at], now.y[at], now.z[at]], [x, y, z + dz]))) at++
      if (at++ >= now.count)
        throw new Refusal('The levels could not be written so that each goes the same way. Nothing was done.')
    }
  }
  const last = (m: typeof now): Triple => [m.x[m.count - 1], m.y[m.count - 1], m.z[m.count - 1]]
  const worse = after.problems.length > source.program.problems.length
  if (worse || !near(last(now), last(motions)))
    throw new Refusal('After it the rest of the program would not go where it went. Nothing was done.')
}

const near = (a: Triple, b: Triple): boolean =>
  a.every((value, axis) => Object.is(value, b[axis]) || Math.abs(value - b[axis]) <= 0.0015)

function lineEndAt(program: Program, line: number) {
  return { line, character: program.lineText(line).length }
}
