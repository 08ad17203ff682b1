import type { TextRule } from '../rule.ts'

/** One finding for each kind of word that is not modelled, at the first of them. */
export const programNotSimulated: TextRule = {
  id: 'program/not-simulated',
  title: 'a word that changes the path in a way that is not modelled',
  severity: 'warning',
  reads: 'text',
  check(program, report) {
    const kinds = new Map<string, (typeof program.notSimulated)[number][]>()
    for (const entry of program.notSimulated) {
      const kind = kinds.get(entry.why)
      if (kind) kind.push(entry)
      else kinds.set(entry.why, [entry])
    }
    for (const [why, entries] of kinds) {
      const more = entries.length > 1 ? ` (${entries.length} times in this program)` : ''
      const sentence = /[.!?]$/.test(why) ? why.slice(0, -1) : why
      report({
        at: entries[0].span,
        message: `${sentence}${more}. The path from here on is not certain, so nothing is said of the wood in this program: no finding on plunges, depths, rapids, chip load or the inlay.`,
      })
    }
  },
}
