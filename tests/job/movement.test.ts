import { describe, expect, it } from 'vitest'
import { changeOfSize, glueMovement } from '../../server/src/job/figures/movement.ts'
import type { PlugFit } from '../../server/src/job/fit/result.ts'
import type { Blank } from '../../server/src/job/sheet.ts'

const blank = (material: string, moisture: number | undefined, grain: 'x' | 'y' = 'x'): Blank => ({
  name: 'b',
  width: 200,
  depth: 150,
  thickness: 20,
  material,
  moisture,
  grain,
  copies: new Map(),
})

/** A plug 100 along x and 40 along y, seated without a turn, with 0.1 a side. */
const fit = {
  pieces: [
    {
      tightest: { gap: 0.1, at: [0, 0] },
      walls: [{ z: 5, plug: [Float64Array.of(0, 0, 100, 0, 100, 40, 0, 40)], pocket: [] }],
      seating: { a: -1, b: 0, c: 0, d: 1, e: 0, f: 0, rise: -1, lift: 0 },
    },
  ],
} as unknown as PlugFit

describe('what the glue’s water does to the gap', () => {
  it('follows equation 13-2: white fir, 232 mm, 8 to 11 % (Wood Handbook’s worked example, read second-hand)', () => {
    expect(changeOfSize(232, 0.00245, 8, 11)).toBeCloseTo(1.705, 3)
  })

  it('swells a walnut plug in maple across the grain and not along it', () => {
    const movement = glueMovement(fit, blank('maple, sugar', 8), blank('walnut, black', 8))!
    expect(movement.along).toEqual([0.1, 0.1])
    // By hand: 20 mm from the middle, 6 % more: maple .00165 or .00353, walnut .00190 or .00274.
    expect(movement.across[0]).toBeCloseTo(0.1 + 20 * 6 * (0.00165 - 0.00274), 9)
    expect(movement.across[1]).toBeCloseTo(0.1 + 20 * 6 * (0.00353 - 0.0019), 9)
    expect(movement.hint).toContain('13-2')
  })

  it('a plug whose grain runs across the blank’s swells where the blank does not', () => {
    const movement = glueMovement(fit, blank('maple, sugar', 8), blank('walnut, black', 8, 'y'))!
    expect(movement.along[0]).toBeCloseTo(0.1 - 50 * 6 * 0.00274, 9)
    expect(movement.across[1]).toBeCloseTo(0.1 + 20 * 6 * 0.00353, 9)
  })

  it.each([
    ['no moisture said', blank('maple, sugar', undefined), blank('walnut, black', 8)],
    ['a wood that is not listed', blank('moonwood', 8), blank('walnut, black', 8)],
    ['out of the range of the equation', blank('maple, sugar', 8), blank('walnut, black', 18)],
  ])('says nothing for %s', (_, pocket, plug) => {
    expect(glueMovement(fit, pocket, plug)).toBeUndefined()
  })
})
