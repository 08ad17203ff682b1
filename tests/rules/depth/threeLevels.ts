import { expect } from 'vitest'
import { expectPart } from '../job.ts'

/** Three levels deeper than a bit may go: one finding, at the deepest, with the first beside it. */
export function expectOneOfThreeLevels(code: string, says: string, bit: object, ignore: string[]): void {
  const { findings } = expectPart(
    `
    G21 G90 M3 S16000
    G0 Z5
    G0 X30 Y30
    G1 Z-13 F250
    G1 X70 F1500
    G1 Z-14 F250
    G1 X30 F1500
    G1 Z-15 F250
    // ^^^^ ${code}: ${says}
    G1 X70 F1500
    G0 Z20
    M30
  `,
    { bits: { 1: bit } },
    { ignore },
  )
  const [found] = findings.filter(finding => finding.code === code)
  expect(found.found).toBeCloseTo(15)
  expect(found.related.map(({ range }) => range.start.line)).toEqual([found.reach!.firstLine])
}
