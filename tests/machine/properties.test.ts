import fc from 'fast-check'
import { expect, test } from 'vitest'
import { ProgramDocument } from '../../server/src/machine/programDocument.ts'
import { DEEPEST_NESTING } from '../../server/src/syntax/expression.ts'
import { line, path, program, read, said } from './programs.ts'

const SEED = Date.now() % 1_000_000

test(`no bytes throw, seed ${SEED}`, () => {
  fc.assert(
    fc.property(fc.uint8Array({ maxLength: 400 }), bytes => {
      said(new ProgramDocument(bytes).program())
    }),
    { seed: SEED, numRuns: 2000 },
  )
})

test(`no mutated program throws, seed ${SEED}`, () => {
  const mutation = fc.tuple(
    fc.nat(2000),
    fc.constantFrom('[', ']', '#', 'o', '\0', '(', '-', '.', '9', '\n', '<', '*', 'é'),
  )
  fc.assert(
    fc.property(program, fc.array(mutation, { maxLength: 30 }), (text, mutations) => {
      const characters = [...text]
      for (const [at, put] of mutations) characters[at % (characters.length + 1)] = put
      said(read(characters.join('')))
    }),
    { seed: SEED, numRuns: 500 },
  )
})

test('brackets nest as deep as is allowed and no deeper, and a hundred thousand of them are one finding', () => {
  const nested = (depth: number): string => `G21 G0 X${'['.repeat(depth)}1${']'.repeat(depth)}\nM2`
  const codes = (text: string): string[] => read(text).problems.map(problem => problem.code)
  expect(read(nested(60)).motions.x[0]).toBe(1)
  expect(codes(nested(DEEPEST_NESTING + 1))).toContain('syntax/bad-expression')
  for (const text of [nested(100_000), `G0 X${'['.repeat(100_000)}`, `G0 X${'#'.repeat(100_000)}1`]) {
    expect(codes(`G21\n${text}`).filter(code => code === 'syntax/bad-expression')).toHaveLength(1)
  }
})

// A comment's text is its own; O words, strings and slips mean what they say only as written.
const plain = line.filter(text => /^[A-Z0-9. [\]+/#=-]*$/.test(text) && !text.includes('N1 '))

test(`blanks and case mean nothing (NISTIR 6556, 3.3.1), seed ${SEED}`, () => {
  fc.assert(
    fc.property(
      fc.array(plain, { maxLength: 20 }),
      fc.infiniteStream(fc.constantFrom('', '', ' ', '\t')),
      (lines, blanks) => {
        const text = lines.join('\n')
        const loose = [...text]
          .map(character => character + (character === '\n' ? '' : blanks.next().value))
          .join('')
          .toLowerCase()
        expect(path(read(loose))).toEqual(path(read(text)))
      },
    ),
    { seed: SEED, numRuns: 500 },
  )
})

test(`words printed anew are read as the same words, seed ${SEED}`, () => {
  fc.assert(
    fc.property(
      fc.array(
        plain.filter(text => !/[#[=]|--|XO/.test(text)),
        { maxLength: 20 },
      ),
      lines => {
        const first = read(lines.join('\n'))
        const printed = lines.map((_, i) =>
          first
            .wordsOf(i)
            .map(({ letter, value }) => `${letter}${value}`)
            .join(' '),
        )
        const again = read(printed.join('\n'))
        lines.forEach((_, i) => {
          const bare = (words: ReturnType<typeof first.wordsOf>): unknown =>
            words.map(({ letter, value }) => [letter, value])
          expect(bare(again.wordsOf(i))).toEqual(bare(first.wordsOf(i)))
        })
      },
    ),
    { seed: SEED, numRuns: 500 },
  )
})
