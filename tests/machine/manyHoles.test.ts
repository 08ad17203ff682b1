import { expect, it } from 'vitest'
import { readProgram } from '../../server/src/machine/readProgram.ts'

const read = (text: string) =>
  readProgram(new TextEncoder().encode(`G21 G90 G17\nS1000 M3\nF100\nG0 Z5\n${text}\nM2\n`))

it('follows as many pecks and repeats as anybody drills', () => {
  const program = read('G91 G83 X1 Z-9 R2 Q0.1 L100')
  expect(program.notSimulated).toEqual([])
  expect(program.motions.count).toBeGreaterThan(100 * 80)
})

it('says so where pecks, repeats and loops multiply beyond all measure, and ends', () => {
  for (const text of [
    'G83 Z-9 R2 Q0.0001 L9999',
    // A hole at an unknown height before it.
    'G90 G83 Z#<unset> R2 Q1\nG83 Z-9 R2 Q0.0001 L9999',
    'O1 WHILE [1]\nG83 Z-9 R2 Q0.0001\nO1 ENDWHILE',
    'O1 REPEAT [400000]\nG81 Z-1 R2\nO1 ENDREPEAT',
  ]) {
    const program = read(text)
    expect(program.notSimulated.map(({ why }) => why).join()).toMatch(/comes to drill over 50000 times/)
    expect(program.motions.count).toBeLessThan(200_000)
  }
})
