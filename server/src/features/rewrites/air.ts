import type { Run } from '../../job/outcome.ts'
import { MotionKind } from '../../machine/motions.ts'
import { cuts } from '../../rules/common/inWood.ts'
import { isFeed, isUpright, lengthAlong } from '../../rules/common/path.ts'
import { holdsOnly, withoutLines } from './lines.ts'
import { LineWriter } from './lineWriter.ts'
import { styleOf, writeWord } from './numbers.ts'
import {
  attempt,
  type Edit,
  insertion,
  lineEndOf,
  mustRunInOrder,
  Refusal,
  type Rewritten,
  readAgain,
  type Source,
} from './source.ts'
import { type LineRead, motionWordOf, scaleOf, walk, wordOf } from './walk.ts'

/** A way through air that is shorter than this is no worse than the way over it, mm. */
const WORTH = 40

/**
 * Goes over at rapid what is cut at feed without ever meeting wood, in every set-up and copy that the program is run in:
 * up, across, and down where the bit has been without cutting.
 */
export function withoutAir(source: Source, runs: readonly Run[]): Rewritten {
  return attempt(() => {
    mustRunInOrder(source)
    if (runs.length === 0)
      throw new Refusal('What is wood and what is air is known in a job only: declare the blank first.')
    const { program } = source
    if (runs.some(run => run.program.motions.count !== program.motions.count))
      throw new Refusal('The job has not been worked out with this text yet: try again.')
    const reads = [...walk(source)].filter(({ kind, words }) => kind !== 'none' || words.length > 0)
    const safe = highestRapid(source)
    const edits: Edit[] = []
    const notes: string[] = []
    let saved = 0
    for (let n = 0; n < reads.length; n++) {
      const last = endOfAir(source, runs, reads, n)
      if (last === undefined) continue
      const length = lengthOf(source, reads, n, last)
      if (length >= WORTH && reads[n].absolute && Number.isFinite(safe)) {
        edits.push(...over(source, reads, n, last, safe))
        saved += length
      }
      n = last
    }
    if (saved > 0) notes.push(`${Math.round(saved)} mm at feed through air become rapids.`)
    endsAsItDid(source, edits)
    return { edits, notes }
  })
}

/** Index of the last of the lines from here on that cut nothing but air; undefined where the first cuts, or is no cut. */
function endOfAir(source: Source, runs: readonly Run[], reads: readonly LineRead[], n: number): number | undefined {
  let last: number | undefined
  for (let at = n; at < reads.length; at++) {
    const { line, kind, motions, absolute } = reads[at]
    if (line < source.first || line > source.last || (at > n && line !== reads[at - 1].line + 1)) break
    if ((kind !== 'straight' && kind !== 'arc') || motions[1] - motions[0] !== 1 || !absolute) break
    const i = motions[0]
    // A way straight down ends in wood or leads to it: that one stays.
    if (!isFeed(source.program.motions, i) || isUpright(source.program.motions, i)) break
    if (
      !holdsOnly(source, line, 'NGXYZIJKR') ||
      reads[at].words.some(({ letter, value }) => letter === 'G' && value > 3)
    )
      break
    if (runs.some(run => cuts(run, i) || run.engagement.volume[i] > 0)) break
    last = at
  }
  return last
}

function lengthOf({ program }: Source, reads: readonly LineRead[], n: number, last: number): number {
  let sum = 0
  for (let at = n; at <= last; at++) sum += lengthAlong(program.motions, reads[at].motions[0])
  return sum
}

function over(source: Source, reads: readonly LineRead[], n: number, last: number, safe: number): Edit[] {
  const style = styleOf(source)
  const { line, units, from } = reads[n]
  const { to, line: lastLine } = reads[last]
  const gap = style.spaced ? ' ' : ''
  const end = lineEndOf(source.text)
  const word = (axis: number, value: number) => writeWord(style, 'XYZ'[axis], value / scaleOf(units), 1e-5)
  const after = reads[last + 1]
  // A lift that comes next anyway is not gone down for.
  const lifts =
    after?.kind === 'straight' &&
    after.motion === 0 &&
    after.to[2] > to[2] &&
    after.to[0] === to[0] &&
    after.to[1] === to[1]
  const across = `${word(0, to[0])}${gap}${word(1, to[1])}`
  const lines = [`G0${gap}${word(2, Math.max(safe, from[2]))}`, across, ...(lifts ? [] : [word(2, to[2])])]
  const edits = [withoutLines(line, lastLine), insertion(lastLine + 1, 0, lines.map(each => each + end).join(''))]
  if (after && !motionWordOf(after.words) && after.kind !== 'none') {
    const writer = new LineWriter(source.program, after.line, after.words, style.spaced)
    writer.addCode(`G${after.motion / 10}`)
    edits.push(...writer.edits())
  }
  if (after && lifts && !wordOf(after.words, 'Z')) return []
  return edits
}

/** Program coordinates, mm. */
function highestRapid({ program }: Source): number {
  const { motions, states } = program
  let highest = Number.NEGATIVE_INFINITY
  for (let i = 0; i < motions.count; i++) {
    if (motions.kind[i] !== MotionKind.rapid || motions.flags[i] !== 0) continue
    highest = Math.max(highest, motions.z[i] - states[motions.state[i]].offset[2] || Number.NEGATIVE_INFINITY)
  }
  return highest
}

function endsAsItDid(source: Source, edits: readonly Edit[]): void {
  const after = readAgain(source, edits)
  const last = ({ motions: { x, y, z, count } }: typeof after) => [x[count - 1], y[count - 1], z[count - 1]]
  const [was, is] = [last(source.program), last(after)]
  const same = was.every((value, n) => Object.is(value, is[n]) || Math.abs(value - is[n]) < 1e-3)
  if (!same || after.problems.length > source.program.problems.length) {
    throw new Refusal('After it the program would not end where it did. Nothing was done.')
  }
}
