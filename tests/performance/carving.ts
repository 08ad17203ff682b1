import type { Motions } from '../../server/src/machine/motions.ts'
import type { Bit } from '../../server/src/stock/bit.ts'

/** The bits of the bench's carving, by state index: a flat one, a bowl bit and a ball. */
export const carvingBits: readonly Bit[] = [bit(1, 'flat', 6, 0), bit(2, 'bowl', 20, 6), bit(3, 'ball', 6, 0)]

function bit(number: number, shape: Bit['shape'], diameter: number, cornerRadius: number): Bit {
  return {
    number,
    name: `${diameter} mm ${shape}`,
    shape,
    diameter,
    cornerRadius,
    angle: 0,
    tipDiameter: 0,
    spiral: 'up',
    flutes: 2,
    cuttingLength: 30,
    stickout: 40,
    shankDiameter: 6,
    colletDiameter: 20,
    centreCutting: true,
    maxRampAngle: 90,
    maxPassDepth: 6,
    chipLoad: [0.02, 0.2],
    chipLoadDeclared: true,
    maxSpeed: 24000,
    maxPlungeFeed: 500,
  }
}

/**
 * A dish in a 300 x 300 mm blank of 30 mm: roughing by a flat bit in levels, a bowl-bit spiral over a hollow floor, a
 * ball-end spiral over the same. About `count` motions, straight ones, frame of the stock as it lies.
 */
export function carvingMotions(count: number): Motions {
  const points: { x: number; y: number; z: number; kind: number; state: number }[] = []
  const floor = (x: number, y: number) => 18 + ((x - 150) ** 2 + (y - 150) ** 2) / 2400
  const go = (kind: number, x: number, y: number, z: number, state: number) => points.push({ x, y, z, kind, state })

  // Roughing: rows 4 mm apart in three levels, about a tenth of the motions.
  const rough = Math.max(1, Math.round(count / 10 / (3 * 62)))
  for (let level = 1; level <= 3; level++) {
    for (let row = 0; row < 62; row++) {
      const y = 26 + row * 4
      go(0, row % 2 ? 274 : 26, y, 35, 0)
      for (let i = 0; i <= rough; i++) {
        const t = row % 2 ? 1 - i / rough : i / rough
        const x = 26 + 248 * t
        go(1, x, y, Math.max(30 - level * 3, floor(x, y) + 1), 0)
      }
    }
  }
  for (const [state, share, turns] of [
    [1, 0.2, 20],
    [2, 0.7, 110],
  ] as const) {
    const steps = Math.round(count * share)
    go(0, 150, 150, 40, state)
    for (let i = 0; i <= steps; i++) {
      const radius = (118 * i) / steps
      const angle = (2 * Math.PI * turns * i) / steps
      const x = 150 + radius * Math.cos(angle)
      const y = 150 + radius * Math.sin(angle)
      go(1, x, y, floor(x, y) - (state === 2 ? 0.3 : 0), state)
    }
    go(0, 150, 150, 40, state)
  }
  return {
    count: points.length,
    kind: Uint8Array.from(points, p => p.kind),
    flags: new Uint8Array(points.length),
    x: Float64Array.from(points, p => p.x),
    y: Float64Array.from(points, p => p.y),
    z: Float64Array.from(points, p => p.z),
    line: Uint32Array.from(points, (_, index) => index),
    state: Uint32Array.from(points, p => p.state),
    arc: new Int32Array(points.length).fill(-1),
    arcs: [],
    start: [150, 150, 40],
  }
}

/**
 * The baseline: stands the bit every half cell along the path, on a plain height map, heights only. Returns the
 * number of stands. Nothing clever.
 */
export function stamp(
  heights: Float32Array,
  nx: number,
  ny: number,
  cell: number,
  motions: Motions,
  underside: (bit: Bit, distance: number) => number,
): number {
  let stands = 0
  let [px, py, pz] = motions.start
  for (let m = 0; m < motions.count; m++) {
    const bit = carvingBits[motions.state[m]]
    const radius = bit.diameter / 2
    const [x, y, z] = [motions.x[m], motions.y[m], motions.z[m]]
    const steps = Math.max(1, Math.ceil(Math.hypot(x - px, y - py, z - pz) / (cell / 2)))
    for (let n = 0; n <= steps; n++) {
      const bx = px + ((x - px) * n) / steps
      const by = py + ((y - py) * n) / steps
      const bz = pz + ((z - pz) * n) / steps
      stands++
      const i0 = Math.max(0, Math.floor((bx - radius) / cell))
      const i1 = Math.min(nx - 1, Math.floor((bx + radius) / cell))
      const j0 = Math.max(0, Math.floor((by - radius) / cell))
      const j1 = Math.min(ny - 1, Math.floor((by + radius) / cell))
      for (let j = j0; j <= j1; j++)
        for (let i = i0; i <= i1; i++) {
          const distance = Math.hypot((i + 0.5) * cell - bx, (j + 0.5) * cell - by)
          if (distance > radius) continue
          const height = bz + underside(bit, distance)
          const index = j * nx + i
          if (height < heights[index]) heights[index] = height
        }
    }
    px = x
    py = y
    pz = z
  }
  return stands
}
