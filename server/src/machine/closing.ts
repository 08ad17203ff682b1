import type { Problem } from '../syntax/problem.ts'
import type { TextSpan } from '../syntax/source.ts'
import type { Run } from './run.ts'

/** The findings that depend on the whole program: how far something reaches, what never came. In text order. */
export function closingProblems(run: Run): Problem[] {
  const problems = [...run.problems]
  const say = (code: string, span: TextSpan, message: string): void => {
    problems.push({ code, span, message })
  }
  for (const { first, lastLine, count, inverseTime } of run.noFeed) {
    const far =
      count === 1
        ? ''
        : ` The same is so of ${count - 1} more cut${count === 2 ? '' : 's'}, down to line ${lastLine + 1}.`
    say(
      'feed/missing',
      first,
      inverseTime
        ? `Under G93 every cut needs an F word of its own, and there is none here: the machine refuses the line.${far}`
        : `No feed has been set when this cut begins: the machine refuses it, or cuts at whatever feed is left over. Write F with the first cut.${far}`,
    )
  }
  if (run.noUnits) {
    const { first, lastLine, count } = run.noUnits
    const reach = count === 1 ? 'This line is' : `${count} lines, down to line ${lastLine + 1}, are`
    say(
      'program/no-units',
      first,
      `Neither G21 (millimetres) nor G20 (inches) has been said yet. ${reach} read in whatever unit the machine was left in; here millimetres are taken. Write G21 or G20 at the top.`,
    )
  }
  if (run.afterEnd) {
    say(
      'program/after-end',
      run.afterEnd,
      'The program has ended before this line: the machine never comes here. Move the end down, or take these lines out.',
    )
  }
  if (!run.modal.ended && run.lastWords && (run.motions.count > 0 || run.events.length > 0)) {
    say(
      'program/no-end',
      run.lastWords,
      'The program stops here without M2 or M30: the spindle may keep turning, and some machines wait for more. Write M2 as the last line.',
    )
  }
  for (const { span, count, message } of run.departures.values()) {
    say('syntax/not-in-dialect', span, count === 1 ? message : `${message} It stands in ${count} places.`)
  }
  return problems.sort((a, b) => a.span.line - b.span.line || a.span.start - b.span.start)
}
