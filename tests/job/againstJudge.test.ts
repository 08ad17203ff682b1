import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { judgeJob } from '../judge/job.ts'
import { pathOf } from '../judge/reader.ts'
import { seat, Walls } from '../judge/seating.ts'
import { workOut } from './run.ts'

const seed = Number(process.env.SEED ?? 20261125)
const runs = Number(process.env.RUNS ?? 3)

/** How near the two must come: depths and gaps in mm, volumes as a share. */
const DEPTH = 0.01
const GAP = 0.006
const VOLUME = 0.01

const BLANK = { width: 60, depth: 48 }
const PLUGS = { width: 52, depth: 44 }
const BIT = 4
const FINE = { cell: 0.5, along: 0.2 }

const tenths = (from: number, to: number) =>
  fc.integer({ min: Math.round(from * 10), max: Math.round(to * 10) }).map(value => value / 10)

const designs = fc.record({
  thickness: tenths(16, 26),
  copy: tenths(-0.6, 0.6),
  pocket: tenths(5, 8),
  film: fc.constantFrom(0, 0.1),
  proud: tenths(0.2, 0.8),
  level: tenths(0.2, 1),
  past: tenths(0.3, 1.5),
  gap: fc.constantFrom(0.06, 0.1, 0.14),
  wide: tenths(16, 22),
  deep: tenths(12, 15),
  corner: tenths(2.5, 4),
  at: fc.tuple(tenths(-3, 3), tenths(-2, 2)),
  turn: fc.constantFrom('sideways' as const, 'endways' as const),
  cavityZero: fc.constantFrom('face' as const, 'bed' as const),
  pocketZero: fc.constantFrom('face' as const, 'bed' as const),
  offset: fc.constantFrom(0, 1.5, -0.5),
  centred: fc.boolean(),
  inches: fc.boolean(),
  resin: fc.boolean(),
})

type Design = typeof designs extends fc.Arbitrary<infer T> ? T : never

/** A rounded rectangle about (x, y) with the bit's centre `off` outside it (negative: inside), counter-clockwise, at a height. */
function contour(
  [x, y]: readonly number[],
  wide: number,
  deep: number,
  corner: number,
  off: number,
  z: number,
): string[] {
  const [a, b] = [wide / 2 + off, deep / 2 + off]
  const r = Math.min(Math.max(corner + off, 0), a, b)
  const to = (dx: number, dy: number) => `X${n(x + dx)} Y${n(y + dy)}`
  const round = (dx: number, dy: number, i: number, j: number) =>
    r > 0.01 ? [`G3 ${to(dx, dy)} I${n(i)} J${n(j)}`] : [`G1 ${to(dx, dy)}`]
  return [
    `G0 ${to(-a + r, -b)}`,
    `G1 Z${n(z)} F300`,
    `G1 ${to(a - r, -b)} F900`,
    ...round(a, -b + r, 0, r),
    `G1 ${to(a, b - r)}`,
    ...round(a - r, b, -r, 0),
    `G1 ${to(-a + r, b)}`,
    ...round(-a, b - r, 0, -r),
    `G1 ${to(-a, -b + r)}`,
    ...round(-a + r, -b, r, 0),
    'G0 Z40',
  ]
}

const n = (value: number) => String(Number(value.toFixed(4)))

/** Contours from the wall inwards until nothing is left, not even a hair where two of them meet. */
function cleared(middle: readonly number[], wide: number, deep: number, corner: number, z: number): string[] {
  const last = deep / 2 - 0.5
  const lines: string[] = []
  for (let off = BIT / 2; off < last; off += 0.6 * BIT) lines.push(...contour(middle, wide, deep, corner, -off, z))
  return [...lines, ...contour(middle, wide, deep, corner, -last, z)]
}

function program(body: readonly string[], inches: boolean, offset: readonly [number, number, number]): string {
  const text = ['G21 G17 G90 G94', 'T1 M6', 'S16000 M3', 'G0 Z40', ...body, 'M5', 'M30'].join('\n')
  const shifted = text.replace(
    /([XYZ])(-?[\d.]+)/g,
    (_, axis: 'X' | 'Y' | 'Z', value: string) => axis + n(Number(value) - offset['XYZ'.indexOf(axis)]),
  )
  if (!inches) return shifted
  return shifted
    .replace('G21', 'G20')
    .replace(/([XYZIJF])(-?[\d.]+)/g, (_, word: string, value: string) => word + (Number(value) / 25.4).toFixed(7))
}

/** The sheet and the programs of a design; the programs are written for the blank's nominal thickness. */
function jobOf(design: Design) {
  const { thickness, copy, pocket, level, past, wide, deep, corner, turn, inches, offset } = design
  const glue = design.resin ? 0 : design.film
  const middle = [BLANK.width / 2 + design.at[0], BLANK.depth / 2 + design.at[1]] as const
  const below = turn === 'sideways' ? [BLANK.width - middle[0], middle[1]] : [middle[0], BLANK.depth - middle[1]]
  const carve = pocket - glue + 1.5
  const sawAt = Math.min(carve, pocket - glue + design.proud)
  const floorZ = Math.max(level + 1.5, pocket - glue - past)
  const onBed = design.cavityZero === 'bed'
  // X0 Y0 in the middle of the blank, or at its corner.
  const at: [number, number] = design.centred ? [BLANK.width / 2, BLANK.depth / 2] : [0, 0]
  const zero = (z: string, up = 0) => ({ ...(design.centred ? { x: 'centre', y: 'centre' } : {}), z, offset: up })
  const small = { wide: wide - 2 * design.gap, deep: deep - 2 * design.gap, corner: corner - design.gap }
  const pocketTop = design.pocketZero === 'bed' ? thickness + copy : 0
  const rows = Array.from({ length: 14 }, (_, k) => k * 3.6).flatMap((y, k) => [
    `G1 Y${n(y)} F900`,
    `G1 X${k % 2 ? -4 : BLANK.width + 4}`,
  ])
  const programs = {
    'plug.nc': program(
      [2, 4.8].flatMap(off =>
        contour([PLUGS.width / 2, PLUGS.depth / 2], small.wide, small.deep, small.corner, off, -carve),
      ),
      inches,
      [0, 0, 0],
    ),
    'pocket.nc': program(cleared(below, wide, deep, corner, pocketTop - pocket - offset), inches, [...at, 0]),
    'level.nc': program(['G0 X-4 Y0', `G1 Z${n(-level)} F300`, ...rows, 'G0 Z40'], inches, [0, 0, 0]),
    'cavity.nc': program(
      cleared(middle, wide + 10, deep + 10, 6, onBed ? floorZ - level : floorZ - thickness - copy),
      inches,
      [...at, 0],
    ),
  }
  const unit = inches ? 25.4 : 1
  const length = (value: number) => value / unit
  const insert = design.resin ? { resin: { overfill: 0.1 } } : { plug: 'plug', glueLine: length(glue) }
  const scaled = (zero: object) => ({ ...zero, offset: length((zero as { offset: number }).offset) })
  const sheet = {
    units: inches ? 'inch' : 'mm',
    bits: { '1': { shape: 'flat', diameter: length(BIT), cuttingLength: length(30), stickout: length(45) } },
    blanks: {
      dish: {
        size: [BLANK.width, BLANK.depth, thickness].map(length),
        copies: { A: { thickness: length(thickness + copy) } },
      },
      plugs: { size: [PLUGS.width, PLUGS.depth, 18].map(length) },
    },
    setups: [
      { name: 'plug', blank: 'plugs', program: 'plug.nc', makes: 'plug', sawAt: length(sawAt) },
      {
        name: 'pocket',
        blank: 'dish',
        face: 'underside',
        turn,
        program: 'pocket.nc',
        makes: 'pocket',
        zero: scaled(zero(design.pocketZero, offset)),
      },
      { name: 'glue', blank: 'dish', insert: { ...insert, into: 'pocket' } },
      { name: 'level', blank: 'dish', face: 'underside', turn, program: 'level.nc', makes: 'level' },
      { name: 'cavity', blank: 'dish', program: 'cavity.nc', makes: 'cavity', zero: scaled(zero(design.cavityZero)) },
    ],
  }
  return { sheet, programs, pocketAt: pocketTop - pocket, carve }
}

/** Tightest and loosest gap by the judge's own reader and its own geometry, half-way down the pocket. */
function judgedGap({ turn, centred, offset }: Design, { programs, pocketAt, carve }: ReturnType<typeof jobOf>) {
  const [ox, oy] = centred ? [BLANK.width / 2, BLANK.depth / 2] : [0, 0]
  const pocket = new Walls(pathOf(programs['pocket.nc'], 1, 0.0005), BIT / 2, pocketAt - offset + 2)
  const points = pocket.points.map(([x, y]) =>
    turn === 'sideways' ? ([BLANK.width - x - ox, y + oy] as const) : ([x + ox, BLANK.depth - y - oy] as const),
  )
  return seat(points, new Walls(pathOf(programs['plug.nc'], 1, 0.0005), BIT / 2, 2 - carve))
}

const roundedArea = (wide: number, deep: number, corner: number) => wide * deep - (4 - Math.PI) * corner ** 2

describe(`random jobs against the judge (seed ${seed})`, () => {
  it(
    'depths within 0.01 mm, gaps within 0.006 mm, volumes within 1 %',
    async () => {
      await fc.assert(
        fc.asyncProperty(designs, async design => {
          const job = jobOf(design)
          const outcome = await workOut(job.sheet, job.programs)
          expect([...outcome.problems, ...outcome.document.problems]).toEqual([])
          const { figures } = outcome.copies[0]
          const files = new Map(Object.entries({ ...job.programs, 'a.json': JSON.stringify(job.sheet) }))
          const judged = judgeJob(files, 'a.json', FINE).get('A')!
          const near = (name: string, value: number | undefined, expected: number | undefined, within: number) =>
            expect(Math.abs((value ?? Number.NaN) - (expected ?? Number.NaN)), `${name}: ${value}, judged ${expected}`) //
              .toBeLessThan(within)
          near('floor', figures.floor?.nominal, judged.floor, DEPTH)
          near('reveal', figures.reveal?.nominal, judged.reveal, DEPTH)
          near('inlay left', figures.inlayLeft?.nominal, judged.inlayLeft, DEPTH)
          const wood = judged.woods.get('dish')!
          const volume = wood.pieces.flat().reduce((sum, { hi, lo }) => sum + hi - lo, 0) * FINE.cell ** 2
          near('volume', (figures.finalVolume ?? 0) / volume, 1, VOLUME)
          if (design.resin) {
            const { wide, deep, corner, pocket } = design
            near('resin', (figures.resin?.volume ?? 0) / (roundedArea(wide, deep, corner) * pocket), 1, VOLUME)
            return
          }
          const gap = judgedGap(design, job)
          near('tightest', figures.fit?.tightest.nominal, gap?.tightest, GAP)
          near('loosest', figures.fit?.loosest.nominal, gap?.loosest, GAP)
          near('tightest by the drawing', figures.fit?.tightest.nominal, design.gap, GAP)
        }),
        { numRuns: runs, seed },
      )
    },
    60_000 + 20_000 * runs,
  )
})
