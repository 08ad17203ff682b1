import { describe, expect, test } from 'vitest'
import { blocksOf, deeper, stepped } from '../../../server/src/features/rewrites/levels.ts'
import { read, samplePrograms, source, textAfter } from './bench.ts'

const closed = `G21 G90
G0 Z10
G0 X0 Y0
Z1
G1 Z-1.5 F300
X40 F1200
Y40
X0
Y0
G1 Z-3 F300
X40 F1200
Y40
X0
Y0
G0 Z10
M2
`
const open = `G21 G90
G0 Z10
G0 X0 Y0
Z1
G1 Z-2 F300
X40 F1200
Y40
G0 Z10
M2
`

describe('a deeper repeat of the last level', () => {
  test('of a way that ends where it began', () => {
    const wanted = closed.replace('\nG0 Z10\nM2', '\nG1 Z-3.8 F300\nX40 F1200\nY40\nX0\nY0\nG0 Z10\nM2')
    expect(textAfter(closed, deeper(source(closed), 0.8))).toBe(wanted)
  })

  test('of a way that does not: up, back, down where the bit has been, and in', () => {
    const wanted = open.replace('\nG0 Z10\nM2', '\nG0 Z10\nX0 Y0\nZ1\nG1 Z-2.8 F300\nX40 F1200\nY40\nG0 Z10\nM2')
    expect(textAfter(open, deeper(source(open), 0.8))).toBe(wanted)
  })

  test('of a ramp no farther than it was written for', () => {
    const ramp = 'G21 G90\nG0 X0 Y0 Z0\nG1 X30 Z-1.5 F500\nX0\nX30 Z-3\nX0\nG0 Z10\nM2\n'
    expect(textAfter(ramp, deeper(source(ramp), 1))).toBe(
      ramp.replace('\nG0 Z10', '\nX30 Z-4\nX0\nG0 Z10').replace('X30 Z-4', 'G1 X30 Z-4'),
    )
    expect(textAfter(ramp, deeper(source(ramp), 2))).toContain('? The way down to this level falls 1.50 mm')
  })

  test.each(samplePrograms().filter(([file]) => /cavity|coaster/.test(file)))('of %s', (_file, text) => {
    const before = blocksOf(source(text))
    const result = deeper(source(text), 0.5)
    if ('why' in result) throw new Error(result.why)
    const after = blocksOf(source(textAfter(text, result)))
    expect(after).toHaveLength(before.length + 1)
    expect(after.at(-1)!.z).toBeCloseTo(before.at(-1)!.z - 0.5, 2)
    expect(read(textAfter(text, result)).problems).toEqual([])
  })
})

describe('levels in another step', () => {
  test('fewer, more, and of one', () => {
    const level = (z: string) => `G1 Z${z} F300\nX40 F1200\nY40\nX0\nY0\n`
    const around = (levels: string) => `G21 G90\nG0 Z10\nG0 X0 Y0\nZ1\n${levels}G0 Z10\nM2\n`
    expect(textAfter(closed, stepped(source(closed), 1))).toBe(
      around(['-1.0', '-2.0', '-3.0'].map(level).join('')).replaceAll('.0', ''),
    )
    expect(textAfter(closed, stepped(source(closed), 3))).toBe(around(level('-3')))
    expect(textAfter(closed, stepped(source(closed), 1.25))).toBe(around(['-1.25', '-2.5', '-3'].map(level).join('')))
    expect(textAfter(open, stepped(source(open), 1))).toBe(
      open
        .replace('Z-2 F300', 'Z-1 F300')
        .replace('\nG0 Z10\nM2', '\nG0 Z10\nX0 Y0\nZ1\nG1 Z-2 F300\nX40 F1200\nY40\nG0 Z10\nM2'),
    )
  })

  test('not of levels that go other ways', () => {
    const other = closed.replace('X40 F1200\nY40\nX0\nY0\nG0', 'X40 F1200\nY30\nX0\nY0\nG0')
    expect(textAfter(other, stepped(source(other), 1))).toContain('? The level of line 5 does not go the same way')
    expect(textAfter('G0 X1', stepped(source('G0 X1'), 1))).toContain('? No cut in these lines')
  })
})
