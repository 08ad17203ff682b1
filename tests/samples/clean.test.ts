import { readFileSync } from 'node:fs'
import { describe, expect, test } from 'vitest'
import { sampleFiles } from '../../samples/make/samples.ts'
import type { Move } from './plain.ts'
import { planLength, readPlain, Wood } from './plain.ts'

const samples = new URL('../../samples/', import.meta.url)
const read = (name: string): string => readFileSync(new URL(name, samples), 'utf8')

/** The clean programs with what their sheets say of them; lengths mm, angles degrees. */
const programs = [
  {
    file: 'fern-dish/plug.nc',
    size: [150, 90],
    face: 0,
    lowest: -7.9,
    bit: { radius: 2, corner: 0 },
    pass: 2,
    ramp: 3,
  },
  {
    file: 'fern-dish/pocket.nc',
    size: [240, 160],
    face: 0,
    lowest: -7.5,
    bit: { radius: 2, corner: 0 },
    pass: 2,
    ramp: 3,
  },
  {
    file: 'fern-dish/level.nc',
    size: [240, 160],
    face: 0,
    lowest: -0.6,
    bit: { radius: 12.5, corner: 0 },
    pass: 1.5,
    ramp: 3,
  },
  {
    file: 'fern-dish/cavity.nc',
    size: [240, 160],
    face: 0,
    lowest: -18,
    bit: { radius: 10, corner: 5 },
    pass: 3,
    ramp: 3,
  },
  {
    file: 'fern-dish/outline.nc',
    size: [240, 160],
    face: 23.5,
    lowest: -0.2,
    bit: { radius: 3, corner: 0 },
    pass: 3,
    ramp: 15,
  },
  {
    file: 'crescent-tray/pocket.nc',
    size: [228.6, 152.4],
    face: 0,
    lowest: -7.62,
    bit: { radius: 3.175, corner: 0 },
    pass: 3.175,
    ramp: 3,
  },
  {
    file: 'crescent-tray/level.nc',
    size: [228.6, 152.4],
    face: 0,
    lowest: -0.508,
    bit: { radius: 12.7, corner: 0 },
    pass: 1.524,
    ramp: 3,
  },
  {
    file: 'crescent-tray/cavity.nc',
    size: [228.6, 152.4],
    face: 0,
    lowest: -16.002,
    bit: { radius: 14.2875, corner: 6.35 },
    pass: 2.54,
    ramp: 3,
  },
  {
    file: 'crescent-tray/outline.nc',
    size: [228.6, 152.4],
    face: 21.844,
    lowest: 1.016,
    bit: { radius: 3.175, corner: 0 },
    pass: 3.175,
    ramp: 3,
  },
  {
    file: 'single-program/coaster.nc',
    size: [120, 120],
    face: 0,
    lowest: -11.5,
    bit: { radius: 3, corner: 0 },
    pass: 3,
    ramp: 3,
  },
] as const

test('making the samples again gives the files that are kept', () => {
  for (const [name, text] of sampleFiles()) expect(read(name), name).toBe(text)
})

describe.each(programs)('$file', ({ file, size, face, lowest, bit, pass, ramp }) => {
  const text = read(file)
  const moves = readPlain(text)

  test('is of a length that a person can look through, and ends as it should', () => {
    const lines = text.trimEnd().split('\n')
    expect(lines.length).toBeGreaterThanOrEqual(100)
    expect(lines.length).toBeLessThanOrEqual(3000)
    expect(lines[lines.length - 1]).toBe('M30')
  })

  test('goes up first and ends high', () => {
    const first = moves[0]
    expect(first.kind).toBe('rapid')
    expect(Number.isNaN(first.to.x) && Number.isNaN(first.to.y)).toBe(true)
    expect(first.to.z).toBeGreaterThanOrEqual(face + 12)
    expect(moves[moves.length - 1].to.z).toBeGreaterThanOrEqual(face + 12)
  })

  test('has feed and spindle in force wherever it cuts, arcs that close, ramps that the bit can take', () => {
    for (const move of moves) {
      if (move.kind !== 'rapid') expect(move.feed > 0 && move.spindle, `line ${move.line + 1}`).toBe(true)
      if (move.kind === 'arc') expect(radiiDiffer(move), `line ${move.line + 1}`).toBeLessThan(tolerance(text))
      const along = planLength(move)
      if (along > 0 && move.to.z < move.from.z) {
        const degrees = (Math.atan2(move.from.z - move.to.z, along) * 180) / Math.PI
        expect(degrees, `line ${move.line + 1}`).toBeLessThanOrEqual(ramp)
      }
    }
  })

  test('never rapids or plunges into wood, takes passes that the bit can take, and gets as deep as it should', () => {
    const wood = new Wood(size[0], size[1], bit.radius < 2.5 ? 0.5 : 1, face)
    for (const move of moves.filter(m => Number.isFinite(m.from.x) && Number.isFinite(m.from.z))) {
      const met = wood.cut(move, bit)
      if (move.kind === 'rapid') expect(met.deepest, `rapid on line ${move.line + 1}`).toBeLessThan(0.02)
      expect(met.plunge, `plunge on line ${move.line + 1}`).toBeLessThan(0.02)
      expect(met.deepest, `pass on line ${move.line + 1}`).toBeLessThanOrEqual(pass + 0.001)
    }
    expect(wood.heights.reduce((a, b) => Math.min(a, b))).toBeCloseTo(lowest, 4)
    if (!file.endsWith('plug.nc') && !file.endsWith('pocket.nc')) return
    // Nothing is left standing half-way: each spot is face or floor.
    const between = wood.heights.filter(z => z < face && Math.abs(z - lowest) > 1e-4)
    expect(between.length).toBe(0)
  })
})

/** RS274/NGC 3.5.3.2: 0.002 mm, or 0.0002 in where inches are in force. */
const tolerance = (text: string): number => (text.includes('G20') ? 0.0002 * 25.4 : 0.002)

function radiiDiffer(move: Move): number {
  const { from, to, centre } = move
  return Math.abs(Math.hypot(from.x - centre!.x, from.y - centre!.y) - Math.hypot(to.x - centre!.x, to.y - centre!.y))
}
