import type { Word } from '../../machine/program.ts'
import { isFeed, isLevel } from '../../rules/common/path.ts'
import { LineWriter } from './lineWriter.ts'
import { styleOf, writeWord } from './numbers.ts'
import {
  attempt,
  type Edit,
  mustRunInOrder,
  Refusal,
  type Rewritten,
  readAgain,
  type Source,
  written,
} from './source.ts'
import { verified } from './verify.ts'
import { type LineRead, scaleOf, walk, wordOf } from './walk.ts'

/** A feed is written to half a thousandth of itself: no machine keeps it better. */
const ROUNDING = 5e-4

/** Makes every feed of these lines so many times as fast. */
export function feedBy(source: Source, factor: number): Rewritten {
  if (!(factor > 0 && Number.isFinite(factor))) return { why: 'A feed is multiplied by a number above 0.' }
  return refed(source, feed => feed * factor, true)
}

/**
 * Feeds for a chip of so many mm a tooth: feed = chip x teeth x speed. Feeds that only lead down are left alone.
 * @param flutesOf of the bit that a T number stands for; undefined where it is not known
 */
export function feedForChip(
  source: Source,
  chip: number,
  flutesOf: (tool: number | undefined) => number | undefined,
): Rewritten {
  if (!(chip > 0 && chip < 5)) return { why: 'A chip load is a length above 0, in mm a tooth.' }
  const { motions, states } = source.program
  return refed(
    source,
    (feed, first, last) => {
      let wanted = Number.NaN
      for (let i = first; i <= last; i++) {
        if (!isFeed(motions, i) || !isLevel(motions, i)) continue
        const { speed, tool } = states[motions.state[i]]
        const flutes = flutesOf(tool)
        if (flutes === undefined)
          throw new Refusal(
            `Which bit cuts on line ${motions.line[i] + 1} is not known, so its teeth cannot be counted: declare it in the job sheet.`,
          )
        if (!(speed > 0))
          throw new Refusal(`No speed is in force on line ${motions.line[i] + 1}: a chip load needs one.`)
        const own = chip * flutes * speed
        if (!Number.isNaN(wanted) && Math.abs(own - wanted) > wanted * ROUNDING) {
          throw new Refusal(
            `The feed in force on line ${motions.line[i] + 1} serves two speeds or two bits: give each its own F first.`,
          )
        }
        wanted = own
      }
      return Number.isNaN(wanted) ? feed : wanted
    },
    false,
  )
}

/**
 * @param wanted the feed for one now in force over the motions from the first to the last of the lines, mm/min (in
 * inverse time, the number itself)
 */
function refed(
  source: Source,
  wanted: (feed: number, first: number, last: number) => number,
  inverseToo: boolean,
): Rewritten {
  return attempt(() => {
    mustRunInOrder(source)
    const style = styleOf(source)
    const edits: Edit[] = []
    const reads = [...walk(source)]
    const governed = stretchesOf(source, reads)
    /** mm/min; as the new text has it, and as the old one had. */
    let now = Number.NaN
    let was = Number.NaN
    let aim = Number.NaN
    for (const read of reads) {
      const { line, words, units, inverseTime } = read
      const inside = line >= source.first && line <= source.last
      const writer = new LineWriter(source.program, line, words, style.spaced)
      const word = wordOf(words, 'F')
      const scale = inverseTime ? 1 : scaleOf(units)
      if (inverseTime && inside && word && !inverseToo)
        throw new Refusal(`Line ${line + 1} is in inverse time, where F is no feed.`)
      const stretch = governed.get(line)
      if (word) was = word.value * scale
      if (inside && stretch && !Number.isNaN(was)) aim = wanted(was, ...stretch)
      else if (!inside || word) aim = was
      const target = aim
      if (word) {
        if (Number.isNaN(word.value))
          throw new Refusal(`The feed of line ${line + 1} is worked out by the machine and is not rewritten.`)
        now = word.value * scale
        if (Math.abs(target - was) > was * 1e-9) {
          writer.replace(word, writeWord(style, 'F', target / scale, (target / scale) * ROUNDING, textOf(source, word)))
          now = target
        }
      } else if (read.kind !== 'none' && cuts(source, read) && !inverseTime) {
        if (Math.abs(target - now) > target * 2 * ROUNDING) {
          writer.add('F', writeWord(style, 'F', target / scale, (target / scale) * ROUNDING))
          now = target
        }
      }
      edits.push(...writer.edits())
      if (line > source.last && Math.abs(now - was) <= was * 1e-9) break
    }
    verified(source, edits)
    keptOutside(source, edits)
    return { edits }
  })
}

const textOf = ({ program }: Source, word: Word): string => written(program, word)

const cuts = ({ program }: Source, { motions: [from, to] }: LineRead): boolean => {
  for (let i = from; i < to; i++) if (isFeed(program.motions, i)) return true
  return false
}

/** By line of an F word, or of the first cut of the lines: the motions that it governs inside them, first and last. */
function stretchesOf(source: Source, reads: readonly LineRead[]): Map<number, readonly [number, number]> {
  const found = new Map<number, readonly [number, number]>()
  let from: { line: number; first: number } | undefined
  let end = -1
  const close = () => {
    if (from && end >= from.first)
      for (let line = from.line; line <= from.line; line++) found.set(line, [from.first, end])
  }
  for (const read of reads) {
    if (read.line < source.first || read.line > source.last) continue
    const starts = wordOf(read.words, 'F') || (!from && read.kind !== 'none' && cuts(source, read))
    if (starts) {
      close()
      from = { line: read.line, first: read.motions[0] }
    }
    if (read.motions[1] > read.motions[0]) end = read.motions[1] - 1
  }
  close()
  return found
}

/** Outside of the lines every cut has the feed that it had. */
function keptOutside(source: Source, edits: readonly Edit[]): void {
  const after = readAgain(source, edits)
  const { motions, states } = source.program
  for (let i = 0; i < motions.count; i++) {
    const line = motions.line[i]
    if ((line >= source.first && line <= source.last) || !isFeed(motions, i)) continue
    const was = states[motions.state[i]].feed
    const now = after.states[after.motions.state[i]].feed
    if (!Object.is(was, now) && !(Math.abs(was - now) <= was * 2 * ROUNDING)) {
      throw new Refusal(
        `After it line ${line + 1}, which is not among the lines chosen, would have another feed. Nothing was done.`,
      )
    }
  }
}
