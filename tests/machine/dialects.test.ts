import { expect, test } from 'vitest'
import type { DialectChoice } from '../../server/src/machine/dialect.ts'
import { read } from './programs.ts'

const dialect = (base: DialectChoice['base'], more: Partial<DialectChoice> = {}): { dialect: DialectChoice } => ({
  dialect: { base, add: [], remove: [], ...more },
})
const codes = (text: string, options: { dialect: DialectChoice }): string[] =>
  read(text, options).problems.map(problem => problem.code)

// The compact dialect's word list is from memory (references.md marks it so).
test('the compact dialect has no cycles; one finding for each kind, with its count', () => {
  const { problems } = read('G21 G90 G0 X0 Y0 Z5 F100\nG81 X1 Z-1 R1\nX2\nG81 X3\nM2', dialect('compact'))
  expect(problems.map(({ code, span }) => [code, span])).toEqual([
    ['syntax/not-in-dialect', { line: 1, start: 0, end: 3 }],
  ])
  expect(problems[0].message).toContain('2 places')
})

test('a sheet may add what a machine knows, and take away what it does not', () => {
  expect(codes('G21 F100 G0 X0 Y0 Z5\nG81 X1 Z-1 R1\nM2', dialect('compact', { add: ['G81'] }))).toEqual([])
  expect(codes('G21 G0 X0\nM2', dialect('rs274ngc', { remove: ['G21'] }))).toEqual(['syntax/not-in-dialect'])
})

test('a code that is added and defined nowhere is accepted and not modelled', () => {
  const program = read('G21 G0 X0\nG77\nM2', dialect('compact', { add: ['G77'] }))
  expect(program.problems).toEqual([])
  expect(program.notSimulated.map(({ span }) => span)).toEqual([{ line: 1, start: 0, end: 3 }])
})

test('compact lines have at most 80 characters, comments and blanks not counted', () => {
  const comment = `(${'a'.repeat(90)})`
  expect(codes(`G21 G0 X1 ${comment}\nM2`, dialect('compact'))).toEqual([])
  expect(codes(`G21 G0 X1.${'0'.repeat(80)}\nM2`, dialect('compact'))).toEqual(['syntax/line-too-long'])
})

test('a $ line is a setting of the compact machine, and an error elsewhere', () => {
  expect(codes('$110=500\nG21 G0 X1\nM2', dialect('compact'))).toEqual([])
  expect(codes('$110=500\nG21 G0 X1\nM2', dialect('rs274ngc'))).toEqual(['syntax/bad-word'])
})

test('compact has no parameters; the standard alone no ; comments, O words or M98', () => {
  expect(codes('G21\n#1=2\nG0 X#1\nM2', dialect('compact'))).toEqual(['syntax/not-in-dialect'])
  expect(codes('G21 ; set\nG0 X1 ; go\nM2', dialect('rs274ngc-strict'))).toEqual(['syntax/not-in-dialect'])
  expect(codes('G21\no1 sub\no1 endsub\nG0 X1\nM2', dialect('rs274ngc-strict'))).toEqual(['syntax/not-in-dialect'])
})
