import type { Problem } from '../syntax/problem.ts'
import type { TextSpan } from '../syntax/source.ts'
import { type Chunk, shifted } from './chunk.ts'
import type { ChunkIndex } from './chunkIndex.ts'
import type { Departure, Reach } from './outcome.ts'

/** Most findings given of one program. */
const MOST_PROBLEMS = 2000

/** All findings of the chunks, with those that depend on the whole program: how far something reaches, what never came. */
export function closingProblems(chunks: readonly Chunk[], index: ChunkIndex): Problem[] {
  const problems: Problem[] = []
  const departures = new Map<string, Departure>()
  const noFeed: Reach[] = []
  let noUnits: Reach | undefined
  let afterEnd: TextSpan | undefined
  for (let n = index.nextSpeaking(0); n >= 0; n = index.nextSpeaking(n + 1)) {
    const chunk = chunks[n]
    const { outcome } = chunk
    if (outcome.printer) return [{ ...outcome.printer, span: shifted(outcome.printer.span, chunk) }]
    for (const problem of outcome.problems) problems.push({ ...problem, span: shifted(problem.span, chunk) })
    for (const [kind, departure] of outcome.departures ?? []) {
      const known = departures.get(kind)
      if (known) known.count += departure.count
      else departures.set(kind, { ...departure, span: shifted(departure.span, chunk) })
    }
    outcome.noFeed.forEach((reach, i) => {
      const last = noFeed[noFeed.length - 1]
      if (i === 0 && outcome.noFeedGoesOn && last) extend(last, reach, chunk)
      else noFeed.push(moved(reach, chunk))
    })
    if (outcome.noUnits) {
      if (noUnits) extend(noUnits, outcome.noUnits, chunk)
      else noUnits = moved(outcome.noUnits, chunk)
    }
    if (outcome.afterEnd) afterEnd ??= shifted(outcome.afterEnd, chunk)
  }
  const say = (code: string, span: TextSpan, message: string): void => {
    problems.push({ code, span, message })
  }
  for (const reach of noFeed) say('feed/missing', reach.first, noFeedMessage(reach))
  if (noUnits) {
    const { count, lastLine, first } = noUnits
    const reach = count === 1 ? 'This line is' : `${count} lines, down to line ${lastLine + 1}, are`
    say(
      'program/no-units',
      first,
      `Neither G21 (millimetres) nor G20 (inches) has been said yet. ${reach} read in whatever unit the machine was left in; here millimetres are taken. Write G21 or G20 at the top.`,
    )
  }
  if (afterEnd) {
    say(
      'program/after-end',
      afterEnd,
      'The program has ended before this line: the machine never comes here. Move the end down, or take these lines out.',
    )
  }
  const last = chunks[chunks.length - 1].outcome.ended
    ? undefined
    : chunks.findLast(({ outcome }) => outcome.last.line >= 0)
  if (last && chunks.some(({ outcome }) => outcome.motionCount > 0 || outcome.events.length > 0)) {
    say(
      'program/no-end',
      shifted(last.outcome.lastWords(last), last),
      'The program stops here without M2 or M30: the spindle may keep turning, and some machines wait for more. Write M2 as the last line.',
    )
  }
  for (const { span, count, message } of departures.values()) {
    say('syntax/not-in-dialect', span, count === 1 ? message : `${message} It stands in ${count} places.`)
  }
  problems.sort((a, b) => a.span.line - b.span.line || a.span.start - b.span.start)
  return problems.length > MOST_PROBLEMS ? problems.slice(0, MOST_PROBLEMS) : problems
}

function moved(reach: Reach, chunk: Chunk): Reach {
  return { ...reach, first: shifted(reach.first, chunk), lastLine: reach.lastLine + chunk.firstLine }
}

function extend(reach: Reach, more: Reach, chunk: Chunk): void {
  reach.count += more.count
  reach.lastLine = more.lastLine + chunk.firstLine
}

function noFeedMessage({ count, lastLine, inverseTime }: Reach): string {
  const far =
    count === 1
      ? ''
      : ` The same is so of ${count - 1} more cut${count === 2 ? '' : 's'}, down to line ${lastLine + 1}.`
  return inverseTime
    ? `Under G93 every cut needs an F word of its own, and there is none here: the machine refuses the line.${far}`
    : `No feed has been set when this cut begins: the machine refuses it, or cuts at whatever feed is left over. Write F with the first cut.${far}`
}
