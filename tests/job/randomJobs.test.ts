import fc from 'fast-check'
import { expect, it } from 'vitest'
import { workOut } from './run.ts'
import { circles, radiiFor, raster } from './workedExample.ts'

/** Contract of the random jobs: depths within this, mm. */
const DEPTH = 0.01

const WIDTH = 44
const MIDDLE = { x: 24, y: 18 }

const tenths = (from: number, to: number) => fc.integer({ min: from * 10, max: to * 10 }).map(value => value / 10)

const jobs = fc.record({
  thickness: tenths(16, 30),
  pocket: tenths(5, 9),
  film: fc.constantFrom(0, 0.1, 0.2),
  proud: tenths(0, 1),
  level: tenths(0.2, 1.2),
  past: fc.oneof(tenths(0.2, 2), tenths(-1, -0.2)),
  turn: fc.constantFrom('sideways' as const, 'endways' as const),
  spin: fc.constantFrom(0 as const, 90 as const, 180 as const, 270 as const),
  onBed: fc.boolean(),
  offset: tenths(-2, 5),
  inches: fc.boolean(),
  resin: fc.boolean(),
})

/** A middle of the blank where it lies, from the contract's words (section 2). */
function lying([x, y]: readonly [number, number], turn: 'sideways' | 'endways' | undefined, spin: number) {
  const [u, v] = turn === 'sideways' ? [WIDTH - x, y] : turn === 'endways' ? [x, WIDTH - y] : [x, y]
  if (spin === 90) return [WIDTH - v, u] as const
  if (spin === 180) return [WIDTH - u, WIDTH - v] as const
  if (spin === 270) return [v, WIDTH - u] as const
  return [u, v] as const
}

function program(body: readonly string[], inches: boolean): string {
  const words = ['G21 G17 G90 G94', 'T1 M6', 'S16000 M3', 'G0 Z60', ...body, 'G0 Z60', 'M5', 'M30'].join('\n')
  if (!inches) return words
  return words
    .replace('G21', 'G20')
    .replace(/([XYZIJF])(-?[\d.]+)/g, (_, letter: string, value: string) => letter + (Number(value) / 25.4).toFixed(7))
}

function discAt([x, y]: readonly [number, number], radius: number, z: number, clear: number): string[] {
  return circles(x, y, radiiFor(radius), z).map(line => (line === 'G0 Z1' || line === 'G0 Z5' ? `G0 Z${clear}` : line))
}

it('random jobs agree with sums that a person can do (seed in the message)', async () => {
  await fc.assert(
    fc.asyncProperty(jobs, async job => {
      const { thickness, pocket, film, level, past, turn, spin, onBed, offset, inches, resin } = job
      const glue = resin ? 0 : film
      const sawAt = pocket + job.proud
      const buried = pocket - glue
      // The cavity's floor lies `past` under the buried face, and never thinner than a millimetre of floor.
      const floorZ = Math.max(buried - past, level + 1)
      const reveal = buried - floorZ
      const insert = resin ? { resin: { overfill: 0.1 } } : { plug: 'plug', glueLine: glue }
      const sheet = {
        bits: { '1': { diameter: 6, cuttingLength: 30, stickout: 40 } },
        blanks: { dish: { size: [WIDTH, WIDTH, thickness] }, plugs: { size: [30, 30, 18] } },
        setups: [
          { name: 'plug', blank: 'plugs', program: 'plug.nc', makes: 'plug', sawAt },
          {
            name: 'pocket',
            blank: 'dish',
            face: 'underside',
            turn,
            program: 'pocket.nc',
            makes: 'pocket',
            zero: { offset },
          },
          { name: 'glue', blank: 'dish', insert: { ...insert, into: 'pocket' } },
          { name: 'level', blank: 'dish', face: 'underside', turn, program: 'level.nc', makes: 'level' },
          {
            name: 'cavity',
            blank: 'dish',
            spin,
            program: 'cavity.nc',
            makes: 'cavity',
            zero: { z: onBed ? 'bed' : 'face' },
          },
        ],
      }
      // On the bed Z0 is the levelled underside; on the face it is the top.
      const cavityZ = onBed ? floorZ - level : floorZ - thickness
      const programs = {
        'plug.nc': program(circles(15, 15, [5.9 + 3], -sawAt), inches),
        'pocket.nc': program(discAt(lying([MIDDLE.x, MIDDLE.y], turn, 0), 6, -pocket - offset, 10), inches),
        'level.nc': program(raster(WIDTH, WIDTH, level).split('\n').slice(4, -4), inches),
        'cavity.nc': program(discAt(lying([MIDDLE.x, MIDDLE.y], undefined, spin), 9, cavityZ, 40), inches),
      }
      const outcome = await workOut(sheet, programs)
      expect([...outcome.problems, ...outcome.document.problems]).toEqual([])
      const { figures } = outcome.copies[0]
      const near = (value: number | undefined, expected: number) =>
        expect(Math.abs((value ?? Number.NaN) - expected), `${value} for ${expected}`).toBeLessThan(DEPTH)
      near(figures.floor?.nominal, floorZ - level)
      near(figures.reveal?.nominal, reveal)
      if (reveal > 0) near(figures.inlayLeft?.nominal, floorZ - level)
      near(figures.level?.proud, 0)
      if (!resin) near(figures.fit?.proud, sawAt + glue - pocket)
      // Worst case: zero and flatness (or bed) for each zero, thickness from face to face.
      const spread = onBed ? 0.2 : 0.6
      near((figures.floor?.most ?? 0) - (figures.floor?.nominal ?? 0), spread)
      expect(figures.reveal?.shown).toBe(reveal > 0 ? 1 : 0)
      // Wall: the cavity's edge to the nearest edge of the blank.
      expect(
        Math.abs((figures.wall?.nominal ?? 0) - (Math.min(MIDDLE.x, MIDDLE.y, WIDTH - MIDDLE.x, WIDTH - MIDDLE.y) - 9)),
      ).toBeLessThan(0.025)
      const volume = figures.resin?.volume
      if (resin) expect(Math.abs((volume ?? 0) / (Math.PI * 36 * pocket) - 1)).toBeLessThan(0.01)
    }),
    { numRuns: 12 },
  )
}, 120_000)
