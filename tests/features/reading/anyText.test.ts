import { expect, test } from 'vitest'
import { hoverAt } from '../../../server/src/features/hover.ts'
import { programCompletions } from '../../../server/src/features/insert/completion.ts'
import { HINT_KINDS, hintsOf } from '../../../server/src/features/reading/hints.ts'
import { programLenses } from '../../../server/src/features/reading/lenses.ts'
import { sheetWith } from '../../rules/job.ts'
import { BAD_TEXTS } from '../language/marked.ts'
import { onBench } from './bench.ts'

const dialect = { base: 'rs274ngc', add: [], remove: [] } as const

test.each(BAD_TEXTS.map((text, n) => [n, text.slice(0, 20), text] as const))(
  'text %i (%j…) is answered at once, with and without a job',
  (_n, _shown, text) => {
    // What is absurdly long is as absurd without wood.
    for (const sheet of text.length > 10_000 ? [undefined] : [undefined, sheetWith()]) {
      const bench = onBench(text, sheet)
      const { program, known, runs } = bench
      const last = Math.min(bench.text.lineCount, 2)
      for (let line = 0; line < last; line++) {
        for (const character of [0, 2, bench.text.line(line).length]) {
          hoverAt({ ...bench, draws: true }, { line, character })
          programCompletions({ text: bench.text, program, runs, sheet: known.sheet, dialect }, { line, character })
        }
      }
      expect(Array.isArray(hintsOf(program, known, new Set(HINT_KINDS), 0, 100))).toBe(true)
      expect(Array.isArray(programLenses(program, known))).toBe(true)
    }
  },
)
