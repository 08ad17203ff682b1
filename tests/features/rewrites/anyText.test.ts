import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { type Kind, numbersIn, REWRITES } from '../../../server/src/features/rewrites/catalogue.ts'
import { rewrite } from '../../../server/src/features/rewrites/rewrite.ts'
import { edited } from '../../../server/src/features/rewrites/source.ts'
import { program as anyProgram } from '../../machine/programs.ts'
import { read, SEED, source } from './bench.ts'

const ANSWERS: Readonly<Record<string, string>> = { shift: '1, 2, 3', stepped: '1', scale: '2', scaleAll: '0.5' }

describe.each(REWRITES as readonly Kind[])('$id', kind => {
  test(`gives edits or a reason for anything that people write (seed ${SEED})`, () => {
    fc.assert(
      fc.property(anyProgram, fc.nat(20), fc.nat(20), (text, from, count) => {
        const answer = ANSWERS[kind.id] ?? kind.question?.value ?? ''
        const result = rewrite(
          source(text, from, Math.min(from + count, read(text).lineCount - 1)),
          kind.id,
          answer,
          [],
        )
        if ('why' in result) expect(result.why).not.toBe('')
        // No edit may make a fault where there was none.
        else expect(read(edited(text, result.edits)).problems.length).toBeLessThanOrEqual(read(text).problems.length)
      }),
      { seed: SEED, numRuns: 40 },
    )
  })
})

test('answers are read as people write numbers, and what is wrong with them is said', () => {
  const shift = (REWRITES as readonly Kind[]).find(({ id }) => id === 'shift')!
  expect(numbersIn(shift, ' 1, -.5 ; +3. ')).toEqual([1, -0.5, 3])
  expect(numbersIn(shift, '1 2')).toEqual([1, 2])
  expect(numbersIn(shift, '1')).toBe('Write 2 numbers or 3 numbers.')
  expect(numbersIn(shift, '1, x')).toContain('plain numbers')
})
