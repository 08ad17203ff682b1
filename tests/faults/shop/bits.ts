import { cavityRadius, type Design, OUTER_RADIUS, ROUGHING_RADIUS, SURFACING_RADIUS } from './design.ts'

/** The bits of the shop as a sheet lists them. `len` gives a length as the sheet writes it. */
export function bitsOf(design: Design, len: (mm: number) => number): Record<string, object> {
  const { cavityBit, fineDiameter, extras } = design
  const lens = (...mm: number[]) => mm.map(len)
  const bit = (name: string, shape: string, diameter: number, reach: object, usual: object) => ({
    name,
    shape,
    diameter: len(diameter),
    flutes: 2,
    colletDiameter: len(20),
    ...reach,
    ...(extras?.terse ? {} : usual),
  })
  const bits: Record<string, object> = {
    1: bit(
      'fine down-cut',
      'flat',
      fineDiameter,
      { spiral: 'down', cuttingLength: len(12), stickout: len(22), shankDiameter: len(fineDiameter) },
      {
        maxRampAngle: 3,
        maxPassDepth: len(2),
        chipLoad: lens(0.015, 0.06),
        maxSpeed: 24000,
        maxPlungeFeed: len(300),
      },
    ),
    2: bit(
      'cavity bit',
      cavityBit,
      2 * cavityRadius(design),
      {
        ...(cavityBit === 'bowl' ? { cornerRadius: len(3) } : {}),
        spiral: 'straight',
        cuttingLength: len(18),
        stickout: len(36),
        shankDiameter: len(8),
      },
      {
        maxRampAngle: 3,
        maxPassDepth: len(3),
        chipLoad: lens(0.03, 0.12),
        maxSpeed: 18000,
        maxPlungeFeed: len(400),
      },
    ),
    3: bit(
      'surfacing bit',
      'flat',
      2 * SURFACING_RADIUS,
      {
        spiral: 'straight',
        cuttingLength: len(8),
        stickout: len(25),
        shankDiameter: len(6),
        centreCutting: false,
        maxRampAngle: 3,
      },
      { maxPassDepth: len(1.5), chipLoad: lens(0.03, 0.12), maxSpeed: 18000, maxPlungeFeed: len(400) },
    ),
    4: bit(
      '6 mm up-cut',
      'flat',
      2 * OUTER_RADIUS,
      { spiral: 'up', cuttingLength: len(24), stickout: len(34), shankDiameter: len(6) },
      {
        maxPassDepth: len(3),
        maxRampAngle: 15,
        chipLoad: lens(0.025, 0.08),
        maxSpeed: 24000,
        maxPlungeFeed: len(450),
      },
    ),
  }
  if (design.rough !== 'same')
    bits[5] = bit(
      '10 mm roughing bit',
      'flat',
      2 * ROUGHING_RADIUS,
      { spiral: 'up', cuttingLength: len(24), stickout: len(36), shankDiameter: len(8) },
      { maxRampAngle: 5, maxPassDepth: len(3), chipLoad: lens(0.03, 0.1), maxSpeed: 20000, maxPlungeFeed: len(400) },
    )
  if (extras?.engraved) {
    const small = { cuttingLength: len(8), stickout: len(20), shankDiameter: len(6) }
    bits[6] = bit('vee', 'vee', 6, { angle: 60, tipDiameter: 0, ...small }, { maxPassDepth: len(1) })
    bits[7] = bit('tapered ball', 'taper', 6, { angle: 12, tipDiameter: len(2), ...small }, { maxPassDepth: len(1) })
  }
  if (extras?.pins)
    bits[8] = bit(
      '4 mm drill',
      'flat',
      4,
      { spiral: 'up', cuttingLength: len(20), stickout: len(30), shankDiameter: len(4) },
      { maxPassDepth: len(4), maxPlungeFeed: len(300) },
    )
  return bits
}
