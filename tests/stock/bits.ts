import type { Bit } from '../../server/src/stock/bit.ts'

/** A bit with everything filled in; a test says what matters to it. */
export function bit(given: Partial<Bit>): Bit {
  return {
    number: 1,
    name: 'test bit',
    shape: 'flat',
    diameter: 6,
    cornerRadius: 0,
    angle: 0,
    tipDiameter: 0,
    spiral: 'straight',
    flutes: 2,
    cuttingLength: 100,
    stickout: 200,
    shankDiameter: 1,
    colletDiameter: 20,
    centreCutting: true,
    maxRampAngle: 90,
    maxPassDepth: 100,
    chipLoad: [0.05, 0.1],
    chipLoadDeclared: false,
    maxSpeed: Number.POSITIVE_INFINITY,
    maxPlungeFeed: 500,
    ...given,
  }
}

/** One of every kind, and the cases between kinds. */
export const EVERY_BIT: readonly Bit[] = [
  bit({ name: 'flat 6' }),
  bit({ name: 'ball 6', shape: 'ball' }),
  bit({ name: 'bowl 19 corner 6', shape: 'bowl', diameter: 19, cornerRadius: 6 }),
  bit({ name: 'bowl 6 corner 0.5', shape: 'bowl', diameter: 6, cornerRadius: 0.5 }),
  bit({ name: 'bowl 8 corner 4, all corner', shape: 'bowl', diameter: 8, cornerRadius: 4 }),
  bit({ name: 'vee 60 sharp', shape: 'vee', diameter: 6, angle: 60 }),
  bit({ name: 'vee 90 tip 0.5', shape: 'vee', diameter: 12, angle: 90, tipDiameter: 0.5 }),
  bit({ name: 'vee 20 tip 1', shape: 'vee', diameter: 6, angle: 20, tipDiameter: 1 }),
  bit({ name: 'taper 10 tip 1', shape: 'taper', diameter: 6, angle: 10, tipDiameter: 1 }),
  bit({ name: 'taper 60 tip 4', shape: 'taper', diameter: 8, angle: 60, tipDiameter: 4 }),
  bit({ name: 'taper narrower than its tip', shape: 'taper', diameter: 3, angle: 10, tipDiameter: 4 }),
]
