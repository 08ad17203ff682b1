import type { Point } from '../../../samples/make/path.ts'
import type { Outline } from '../../../samples/make/shape.ts'
import { softened, union } from '../../../samples/make/shape.ts'
import type { Chance } from '../random.ts'

/** One standing part of a motif, about the middle of the motif, as seen from the top of the finished piece. */
export interface Part {
  readonly outline: Outline
  /** Room enough for the bit to go in, in the middle of it. */
  readonly entry: Point
  /** Radius of a hole through the part, about its entry; the island of wood in the pocket. */
  readonly hole?: number
}

/** All that was chosen for a job; lengths mm, whatever the files are written in. */
export interface Design {
  readonly parts: readonly Part[]
  readonly units: { readonly sheet: 'mm' | 'inch'; readonly programs: 'mm' | 'inch' }
  readonly width: number
  readonly depth: number
  readonly thick: number
  readonly turn: 'sideways' | 'endways'
  readonly resin: boolean
  readonly copies: boolean
  readonly manual: boolean
  /** Bits are named by T words in the programs, not by the sheet. */
  readonly changer: boolean
  readonly gap: number
  /** What is taken on the pocket's wall, for a fault: walls as they are seen, not turned over. */
  readonly unturned?: boolean
  readonly cavityBit: 'bowl' | 'flat' | 'ball'
  readonly fineDiameter: number
  readonly zero: { readonly corner: boolean; readonly cavityOnBed: boolean; readonly offset: number }
}

export const DEPTHS = { pocket: 7, carved: 7.4, glue: 0.1, level: 0.6, floor: 5.6, skin: 1 }
export const WALL = 7
export const OUTER_RADIUS = 3
export const SURFACING_RADIUS = 10

export const cavityRadius = (design: Design): number => ({ bowl: 8, flat: 6, ball: 6 })[design.cavityBit]

export function rimOf({ width, depth }: Design) {
  return { left: 16.5, near: 15, right: width - 16.5, far: depth - 15, radius: 16 }
}

const box = (left: number, near: number, right: number, far: number): Outline => [
  { x: left, y: near },
  { x: right, y: near },
  { x: right, y: far },
  { x: left, y: far },
]

function disc(centre: Point, radius: number): Outline {
  return Array.from({ length: 240 }, (_, i) => {
    const a = (2 * Math.PI * i) / 240
    return { x: centre.x + radius * Math.cos(a), y: centre.y + radius * Math.sin(a) }
  })
}

const rounded = (outline: Outline): Outline => softened(outline, 2.6, 2.6)

const MOTIFS: readonly (() => readonly Part[])[] = [
  () => [{ outline: disc({ x: 0, y: 0 }, 10.5), entry: { x: 0, y: 0 } }],
  () => [
    {
      outline: rounded(union([box(-12, -11, -2, 11), box(-12, -11, 12, -2.5)])),
      entry: { x: -6.8, y: -6.4 },
    },
  ],
  () => [{ outline: rounded(box(-13, -8, 13, 8)), entry: { x: 0, y: 0 } }],
  () => [
    { outline: disc({ x: -10, y: 1 }, 5.2), entry: { x: -10, y: 1 } },
    { outline: rounded(box(4, -7, 13, 7)), entry: { x: 8.5, y: 0 } },
  ],
  () => [{ outline: disc({ x: 0, y: 0 }, 12.5), entry: { x: 0, y: 0 }, hole: 5 }],
]

export function designFrom(index: number, chance: Chance): Design {
  const inches = chance.next() < 0.35
  return {
    parts: MOTIFS[index % MOTIFS.length](),
    units: {
      sheet: inches ? 'inch' : 'mm',
      programs: chance.next() < 0.8 === inches ? 'inch' : 'mm',
    },
    width: 92 + 2 * chance.below(6),
    depth: 82 + 2 * chance.below(6),
    thick: 15.5 + 0.5 * chance.below(4),
    turn: chance.yes() ? 'sideways' : 'endways',
    resin: chance.next() < 0.3,
    copies: chance.next() < 0.3,
    manual: chance.next() < 0.3,
    changer: chance.next() < 0.4,
    gap: chance.pick([0.08, 0.1, 0.12]),
    cavityBit: chance.pick(['bowl', 'flat', 'ball'] as const),
    fineDiameter: chance.pick([3, 4]),
    zero: { corner: chance.yes(), cavityOnBed: chance.next() < 0.4, offset: chance.pick([0, 0, 2]) },
  }
}

/** Speeds, rev/min, where the spindle is not set by hand. */
export const SPEED = { fine: 18000, cavity: 16000, surfacing: 14000, outer: 16000 }
/** That of the router switched by hand. */
export const BY_HAND = 16000

/** The job sheet's text: lengths in the sheet's units, rounded as a person would write them. */
export function sheetOf(design: Design): string {
  const inch = design.units.sheet === 'inch'
  const len = (mm: number) => Number((inch ? mm / 25.4 : mm).toFixed(inch ? 5 : 3))
  const lens = (...mm: number[]) => mm.map(len)
  const { cavityBit, fineDiameter } = design
  const bit = (name: string, shape: string, diameter: number, more: object) => ({
    name,
    shape,
    diameter: len(diameter),
    flutes: 2,
    ...more,
  })
  const bits = {
    1: bit('fine down-cut', 'flat', fineDiameter, {
      spiral: 'down',
      cuttingLength: len(12),
      stickout: len(22),
      shankDiameter: len(fineDiameter),
      colletDiameter: len(20),
      maxRampAngle: 3,
      maxPassDepth: len(2),
      chipLoad: lens(0.015, 0.06),
      maxSpeed: 24000,
      maxPlungeFeed: len(300),
    }),
    2: bit('cavity bit', cavityBit, 2 * cavityRadius(design), {
      ...(cavityBit === 'bowl' ? { cornerRadius: len(3) } : {}),
      spiral: 'straight',
      cuttingLength: len(18),
      stickout: len(36),
      shankDiameter: len(8),
      colletDiameter: len(20),
      maxRampAngle: 3,
      maxPassDepth: len(3),
      chipLoad: lens(0.03, 0.12),
      maxSpeed: 18000,
      maxPlungeFeed: len(400),
    }),
    3: bit('surfacing bit', 'flat', 2 * SURFACING_RADIUS, {
      spiral: 'straight',
      cuttingLength: len(8),
      stickout: len(25),
      shankDiameter: len(6),
      colletDiameter: len(20),
      centreCutting: false,
      maxRampAngle: 3,
      maxPassDepth: len(1.5),
      chipLoad: lens(0.03, 0.12),
      maxSpeed: 18000,
      maxPlungeFeed: len(400),
    }),
    4: bit('6 mm up-cut', 'flat', 2 * OUTER_RADIUS, {
      spiral: 'up',
      cuttingLength: len(24),
      stickout: len(34),
      shankDiameter: len(6),
      colletDiameter: len(20),
      maxPassDepth: len(3),
      maxRampAngle: 15,
      chipLoad: lens(0.025, 0.08),
      maxSpeed: 24000,
      maxPlungeFeed: len(450),
    }),
  }
  const bitFor = (number: string) => (design.changer ? {} : { bit: number })
  const zero = (z: object = {}) => ({
    ...(design.zero.corner ? {} : { x: 'centre', y: 'centre' }),
    ...z,
  })
  const offset = design.zero.offset === 0 ? {} : { offset: len(design.zero.offset) }
  const under = { blank: 'dish', face: 'underside', turn: design.turn }
  const setups = [
    ...(design.resin
      ? []
      : [
          {
            name: 'plug',
            blank: 'plugs',
            face: 'top',
            program: 'plug.nc',
            makes: 'plug',
            sawAt: len(DEPTHS.carved),
            ...bitFor('1'),
            zero: zero(),
            held: 'tape',
          },
        ]),
    { name: 'pocket', ...under, program: 'pocket.nc', makes: 'pocket', ...bitFor('1'), zero: zero(offset) },
    design.resin
      ? {
          name: 'pour',
          blank: 'dish',
          insert: { resin: { density: 1.1, ratio: [2, 1], by: 'weight', overfill: 0.05 }, into: 'pocket' },
        }
      : { name: 'glue', blank: 'dish', insert: { plug: 'plug', into: 'pocket', glueLine: len(DEPTHS.glue) } },
    { name: 'level', ...under, program: 'level.nc', makes: 'level', ...bitFor('3'), zero: zero(offset) },
    {
      name: 'cavity',
      blank: 'dish',
      face: 'top',
      program: 'cavity.nc',
      makes: 'cavity',
      ...bitFor('2'),
      zero: zero(design.zero.cavityOnBed ? { z: 'bed' } : offset),
    },
    {
      name: 'outline',
      blank: 'dish',
      face: 'top',
      program: 'outline.nc',
      makes: 'outline',
      ...bitFor('4'),
      zero: zero({ z: 'bed' }),
      held: 'tape',
    },
  ]
  const { thick, width, depth } = design
  const sheet = {
    title: 'a small dish',
    units: design.units.sheet,
    limits: {
      floor: len(4),
      wall: len(5),
      inlayLeft: len(2),
      reveal: len(0.3),
      clearance: lens(0.05, 0.15),
      gapBeneath: len(0.5),
    },
    tolerances: {
      thickness: len(0.2),
      zero: len(0.1),
      flatness: len(0.1),
      bed: len(0.1),
      register: len(0.3),
      bitDiameter: len(0.02),
      sanding: len(0.2),
    },
    machine: {
      dialect: 'rs274ngc',
      travel: lens(600, 400, 90),
      maxFeed: lens(5000, 5000, 1500),
      rapidFeed: lens(5000, 5000, 1500),
      acceleration: lens(400, 400, 200),
      spindle: design.manual ? { manual: true, speed: BY_HAND } : { min: 8000, max: 24000, power: 800 },
      clearance: len(1.5),
    },
    bits,
    blanks: {
      dish: {
        size: lens(width, depth, thick),
        material: 'maple, sugar',
        moisture: 8,
        grain: 'x',
        ...(design.copies ? { copies: { A: { thickness: len(thick) }, B: { thickness: len(thick - 0.3) } } } : {}),
      },
      ...(design.resin
        ? {}
        : { plugs: { size: lens(64, 64, 14), material: 'walnut, black', moisture: 8, grain: 'x' } }),
    },
    setups,
  }
  return `${JSON.stringify(sheet, null, 2)}\n`
}
