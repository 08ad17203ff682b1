import { expect, test } from 'vitest'
import { MOST_STEPS } from '../../server/src/machine/flow.ts'
import { read } from './programs.ts'

// O words, named parameters and M98 are extensions that the standard does not have: what they do is common practice.
const xs = (text: string): number[] => [...read(text).motions.x]

test('a subprogram has its own #1 to #30 and local names; motions know the call', () => {
  const text = 'G21\no1 sub\nG0 X#1 Y#2\n#<local>=8\no1 endsub\n#1=50\no1 call [3] [4]\nX#1\nM2'
  const program = read(text)
  expect([...program.motions.x]).toEqual([3, 50])
  expect(program.callTrail(0)).toEqual([{ line: 6, start: 0, end: 15 }])
  expect(program.motions.line[0]).toBe(2)
  expect(program.callTrail(1)).toEqual([])
  expect(program.problems).toEqual([])
})

test('if, elseif, else', () => {
  const branch = (n: number): number[] =>
    xs(`G21\n#1=${n}\no1 if [#1 EQ 1]\nG0 X10\no1 elseif [#1 EQ 2]\nG0 X20\no1 else\nG0 X30\no1 endif\nM2`)
  expect([branch(1), branch(2), branch(3)]).toEqual([[10], [20], [30]])
})

test('while, do, repeat, break, continue', () => {
  expect(xs('G21\no1 while [#1 LT 3]\n#1=[#1+1]\nG0 X#1\no1 endwhile\nM2')).toEqual([1, 2, 3])
  expect(xs('G21\no1 do\n#1=[#1+1]\nG0 X#1\no1 while [#1 LT 3]\nM2')).toEqual([1, 2, 3])
  expect(xs('G21 G0 X0\nG91\no1 repeat [3]\nX1\no1 endrepeat\nM2')).toEqual([0, 1, 2, 3])
  const skip = 'o2 if [#1 EQ 2]\no1 continue\no2 endif\no3 if [#1 EQ 4]\no1 break\no3 endif\n'
  expect(xs(`G21\no1 while [#1 LT 9]\n#1=[#1+1]\n${skip}G0 X#1\no1 endwhile\nM2`)).toEqual([1, 3])
})

test('M98 P L and M99', () => {
  const program = read('G21 G91 G0 X1\nM98 P200 L2\nX5\nM30\nO200\nX10\nM99')
  expect([...program.motions.line]).toEqual([0, 5, 5, 2])
  expect(program.problems).toEqual([])
})

test('loops and calls without end are cut off, and that is said', () => {
  const loop = read('G21 G91 F9\no1 while [1]\nG1 X1\no1 endwhile\nM2')
  expect(loop.motions.count).toBeLessThan(MOST_STEPS)
  expect(loop.notSimulated).toHaveLength(1)
  const calls = read('G21\no1 sub\no1 call\no1 endsub\no1 call\nM2')
  expect(calls.problems.map(({ code, span }) => [code, span.line])).toEqual([['syntax/bad-word', 2]])
})
