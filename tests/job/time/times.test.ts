import { readdirSync, readFileSync } from 'node:fs'
import { join } from 'node:path'
import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { timesOf } from '../../../server/src/job/figures/times.ts'
import { MACHINE } from '../../../server/src/job/reading/defaults.ts'
import type { Machine } from '../../../server/src/job/sheet.ts'
import { readProgram } from '../../../server/src/machine/readProgram.ts'
import { drive } from './drive.ts'

const SEED = Date.now() % 1_000_000
const AT_ORIGIN = 'G21 G90 G17\nG92 X0 Y0 Z0\n'
const programOf = (text: string) => readProgram(new TextEncoder().encode(text))
const estimated = (moves: string, machine: Machine = MACHINE): number =>
  timesOf(programOf(AT_ORIGIN + moves), machine).estimated
const machineOf = (more: Partial<Machine>): Machine => ({ ...MACHINE, ...more })

describe('closed forms (references: straight move second-hand, junction deviation from memory)', () => {
  test('a single move, along each axis and across, at the feed and too short for it', () => {
    const machine = machineOf({ acceleration: [400, 300, 200] })
    expect(estimated('G1 X100 F1200', machine)).toBeCloseTo(100 / 20 + 20 / 400, 9)
    expect(estimated('G1 Y-100 F1200', machine)).toBeCloseTo(100 / 20 + 20 / 300, 9)
    expect(estimated('G1 Z0.5 F1200', machine)).toBeCloseTo(2 * Math.sqrt(0.5 / 200), 9)
    // 3 to 4: Y, at 300 a fifth of 5 over 4 faster than the way itself, holds it back before X does.
    expect(estimated('G1 X30 Y40 F1200', machine)).toBeCloseTo(50 / 20 + 20 / (300 / 0.8), 9)
  })

  test('a rapid goes as fast as its slowest axis lets it', () => {
    const machine = machineOf({ rapidFeed: [6000, 3000, 600], acceleration: [500, 500, 100] })
    expect(estimated('G0 X100', machine)).toBeCloseTo(100 / 100 + 100 / 500, 9)
    expect(estimated('G0 X100 Y100', machine)).toBeCloseTo(
      Math.hypot(100, 100) / (50 * Math.SQRT2) + (50 * Math.SQRT2) / (500 * Math.SQRT2),
      9,
    )
    expect(estimated('G0 Z20', machine)).toBeCloseTo(20 / 10 + 10 / 100, 9)
  })

  test('a right-angle corner is taken at v² = a delta sin 45° / (1 - sin 45°)', () => {
    const [v, a, d] = [20, 400, 50]
    const half = Math.SQRT1_2
    const corner = Math.sqrt((a * 0.01 * half) / (1 - half))
    // Up to v, along, and down to the speed of the corner; the second leg is the same backwards.
    const leg = v / a + (v - corner) / a + (d - (v * v) / (2 * a) - (v * v - corner * corner) / (2 * a)) / v
    expect(estimated('G1 X50 F1200\nY50')).toBeCloseTo(2 * leg, 9)
    // Legs so short that the feed is never reached.
    const peak = Math.sqrt((2 * a * 0.2 + corner * corner) / 2)
    expect(estimated('G1 X0.2 F1200\nY0.2')).toBeCloseTo(2 * (peak / a + (peak - corner) / a), 9)
  })

  test('straight on is one move, a turn back is a stand', () => {
    expect(estimated('G1 X20 F1200\nX60\nX60\nX100')).toBeCloseTo(100 / 20 + 20 / 400, 9)
    expect(estimated('G1 X50 F1200\nX0')).toBeCloseTo(2 * (50 / 20 + 20 / 400), 9)
  })

  test('an arc is gone no faster than the pull to its centre allows, v² = a r', () => {
    const speed = Math.sqrt(400 * 2)
    const length = 2 * Math.PI * 2
    expect(estimated('G2 X0 Y0 I2 F6000')).toBeCloseTo(length / speed + speed / 400, 9)
    // A helix: only the part that goes round pulls. On Z 200 mm/s² are enough for its share of the way.
    const helix = Math.hypot(length, 1)
    expect(estimated('G2 X0 Y0 Z-1 I2 F6000')).toBeCloseTo(
      helix / ((speed * helix) / length) + (speed * helix) / length / ((400 * helix) / length),
      9,
    )
  })

  test('a dwell, a stop, a change of bits and the spindle are stands; the time of a dwell counts', () => {
    const leg = 50 / 20 + 20 / 400
    expect(estimated('G1 X50 F1200\nG4 P2\nX100')).toBeCloseTo(2 * leg + 2, 9)
    for (const word of ['M0', 'T2 M6', 'M3 S9000']) {
      expect(estimated(`G1 X50 F1200\n${word}\nX100`)).toBeCloseTo(2 * leg, 9)
    }
    expect(estimated('G1 X50 F1200\nX100\nG4 P3\nM2')).toBeCloseTo(100 / 20 + 20 / 400 + 3, 9)
  })
})

test('each motion is done when the program up to it is, but for what lies ahead of it', () => {
  const { doneAt, estimated: all } = timesOf(
    programOf(`${AT_ORIGIN}G1 X50 F1200\nG4 P2\nX100\nG0 Z5\nX0\nG4 P1\nM2`),
    MACHINE,
  )
  expect([...doneAt.subarray(0, 2)]).toEqual([expect.closeTo(2.55, 9), expect.closeTo(2.55 + 2 + 2.55, 1)])
  expect(doneAt.at(-1)).toBeCloseTo(all - 1, 9)
  expect([...doneAt].sort((a, b) => a - b)).toEqual([...doneAt])
})

/** Seconds, and by how much they differ from driving the program in steps of a millisecond. */
function difference(text: string, machine: Machine): number {
  const program = programOf(text)
  const driven = drive(program, machine)
  return Math.abs(timesOf(program, machine).estimated - driven) / driven
}

const samples = readdirSync('samples', { recursive: true })
  .map(String)
  .filter(name => name.endsWith('.nc') && !name.includes('first-draft'))
const odd = machineOf({
  maxFeed: [3000, 1500, 500],
  rapidFeed: [4000, 2500, 600],
  acceleration: [300, 150, 80],
})

describe('within 0.3 %, and 1 % for the shortest, of the same machine driven in steps of a millisecond', () => {
  test('there are samples', () => expect(samples.length).toBeGreaterThan(3))
  test.each(samples)('%s', name => {
    const text = readFileSync(join('samples', name), 'utf8')
    expect(difference(text, MACHINE)).toBeLessThan(0.003)
    expect(difference(text, odd)).toBeLessThan(0.003)
  })

  test(`random moves on random machines, seed ${SEED}`, () => {
    const coordinate = fc.integer({ min: -200, max: 200 }).map(n => n / 10)
    const move = fc.oneof(
      fc
        .tuple(fc.constantFrom('G0', 'G1'), coordinate, coordinate, coordinate)
        .map(([g, x, y, z]) => `${g} X${x} Y${y} Z${z}`),
      fc.tuple(coordinate, coordinate).map(([x, y]) => `G1 X${x} Y${y}`),
      fc
        .tuple(fc.constantFrom('G2', 'G3'), fc.constantFrom('G17', 'G18', 'G19'), coordinate, coordinate)
        .map(
          ([g, plane, u, v]) =>
            `${plane} ${g} ${plane === 'G17' ? `I${u} J${v} Z1` : plane === 'G18' ? `K${u} I${v} Y2` : `J${u} K${v} X3`}`,
        ),
      fc.integer({ min: 100, max: 6000 }).map(f => `F${f}`),
      fc.constantFrom('M5', 'G4 P0.5'),
    )
    const axes = (most: number) =>
      fc.tuple(
        fc.integer({ min: most / 10, max: most }),
        fc.integer({ min: most / 10, max: most }),
        fc.integer({ min: most / 10, max: most }),
      )
    fc.assert(
      fc.property(
        fc.array(move, { minLength: 1, maxLength: 12 }),
        axes(6000),
        axes(6000),
        axes(1000),
        (moves, maxFeed, rapidFeed, acceleration) => {
          const text = `${AT_ORIGIN}F800\nG1 X20\n${moves.join('\n')}\n`
          expect(difference(text, machineOf({ maxFeed, rapidFeed, acceleration }))).toBeLessThan(0.01)
        },
      ),
      { seed: SEED, numRuns: 40 },
    )
  })
})
