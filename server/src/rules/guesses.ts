import type { Program } from '../machine/program.ts'
import { ALL_RULES } from './all.ts'
import type { Finding } from './rule.ts'

/** What the text breaks on a line so that nobody can tell how the machine would move there. */
const BREAKS_PATH = /^(?:arc\/|syntax\/(?!line-too-long|read-two-ways))/

/**
 * One mistake, one finding. Where a line breaks the language, its path is a guess: the machine refuses it. What that
 * guess seems to do to the wood, there and on the way to the next place, is the same mistake in other words, and goes
 * along with it as a related place.
 */
export function withoutGuesses(findings: readonly Finding[], programs: ReadonlyMap<string, Program>): Finding[] {
  const breaks = findings.filter(({ code, severity }) => severity === 'error' && BREAKS_PATH.test(code))
  if (breaks.length === 0) return [...findings]
  const guessed = new Map<string, Finding>()
  for (const finding of breaks) {
    const program = programs.get(finding.file)
    for (const line of program ? linesGuessed(program, finding.range.start.line) : []) {
      const key = `${finding.file} ${line}`
      if (!guessed.has(key)) guessed.set(key, finding)
    }
  }
  const ofTheWood = new Set(ALL_RULES.filter(({ reads }) => reads === 'run' || reads === 'job').map(({ id }) => id))
  const folded = new Map<Finding, Finding[]>()
  const kept = findings.filter(finding => {
    const cause = ofTheWood.has(finding.code) && guessed.get(`${finding.file} ${finding.range.start.line}`)
    if (!cause) return true
    folded.set(cause, [...(folded.get(cause) ?? []), finding])
    return false
  })
  return kept.map(finding => {
    const effects = folded.get(finding)?.map(({ file, range, code }) => ({
      file,
      range,
      message: `as it is read, ${code} as well: look again once this is mended`,
    }))
    return effects ? { ...finding, related: [...finding.related, ...effects] } : finding
  })
}

/** The line itself, and the next one that moves: it begins where the guess has ended. */
function linesGuessed({ motions }: Program, line: number): number[] {
  let next: number | undefined
  for (let i = 0; i < motions.count; i++) {
    const own = motions.line[i]
    if (own > line && (next === undefined || own < next)) next = own
  }
  return next === undefined ? [line] : [line, next]
}
