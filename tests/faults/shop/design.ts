import type { Point } from '../../../samples/make/path.ts'
import type { Outline } from '../../../samples/make/shape.ts'
import { softened, union } from '../../../samples/make/shape.ts'
import type { Chance } from '../random.ts'
import { anyHand, type Hand, steadyHand } from './hands.ts'
import { sizeAfter } from './shiftedWriter.ts'

/** One standing part of a motif, about the middle of the motif, as seen from the top of the finished piece. */
export interface Part {
  readonly outline: Outline
  /** Room enough for the bit to go in, in the middle of it. */
  readonly entry: Point
  /** Radius of a hole through the part, about its entry; the island of wood in the pocket. */
  readonly hole?: number
}

/** The set-ups of the dish that have programs. */
export type Step = 'pocket' | 'level' | 'cavity' | 'outline'
export type Spin = 0 | 90 | 180 | 270

/** What hands do besides: nothing of it is wrong, and nothing of it is known to the judge. */
export interface Extras {
  readonly dialect: 'rs274ngc' | 'compact'
  /** Fields that may be left out are. */
  readonly terse: boolean
  readonly roundPlug: boolean
  /** Holes for pins, drilled in cycles; the dish finds its place on them. */
  readonly pins: boolean
  /** A groove cut with a vee bit along the rim, and one with a tapered ball in the floor. */
  readonly engraved: boolean
  readonly roundOver: boolean
  /** The face is touched off at one spot. */
  readonly touch: boolean
  readonly resin: { readonly by: 'weight' | 'volume'; readonly shrinkage: number; readonly maxPourDepth: number }
  readonly lengths: boolean
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
  /** Thicknesses of the copies over the nominal one; none listed where empty. */
  readonly copies: readonly number[]
  readonly manual: boolean
  /** Bits are named by T words in the programs, not by the sheet. */
  readonly changer: boolean
  readonly gap: number
  /** What is taken on the pocket's wall, for a fault: walls as they are seen, not turned over. */
  readonly unturned?: boolean
  readonly cavityBit: 'bowl' | 'flat' | 'ball'
  /** The cavity is roughed out with another bit: in a program of its own, or before a change of bits. */
  readonly rough: 'same' | 'program' | 'change'
  readonly spins: Readonly<Record<Step, Spin>>
  readonly hand: Hand
  readonly extras?: Extras
  readonly fineDiameter: number
  readonly zero: {
    readonly corner: 'near-left' | 'centre' | 'far-right'
    readonly cavityOnBed: boolean
    readonly pocketOnBed: boolean
    readonly offset: number
    /** Not touched off again for the outline. */
    readonly kept: boolean
  }
}

export const DEPTHS = { pocket: 7, carved: 7.4, glue: 0.1, level: 0.6, floor: 5.6, skin: 1 }
export const WALL = 7
export const OUTER_RADIUS = 3
export const ROUGHING_RADIUS = 5
export const SURFACING_RADIUS = 10

export const cavityRadius = (design: Design): number => ({ bowl: 8, flat: 6, ball: 6 })[design.cavityBit]

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
  const changer = chance.next() < 0.4
  const copies = chance.pick([[], [], [0, -0.3], [0, 0.2, -0.2]])
  const cavityBit = chance.pick(['bowl', 'flat', 'ball'] as const)
  const spin = (): Spin => chance.pick([0, 0, 0, 90, 180, 270])
  const cavity = spin()
  const kept = chance.next() < 0.25
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
    copies,
    manual: chance.next() < 0.3,
    changer,
    gap: chance.pick([0.08, 0.1, 0.12]),
    cavityBit,
    rough: cavityBit === 'bowl' ? chance.pick(['same', 'program', changer ? 'change' : 'program']) : 'same',
    spins: { pocket: spin(), level: spin(), cavity, outline: kept ? cavity : spin() },
    hand: steadyHand(chance),
    fineDiameter: chance.pick([3, 4]),
    zero: {
      corner: chance.pick(['near-left', 'near-left', 'centre', 'centre', 'far-right']),
      cavityOnBed: chance.next() < 0.4,
      pocketOnBed: copies.length === 0 && chance.next() < 0.2,
      offset: chance.pick([0, 0, 2]),
      kept,
    },
  }
}

/** Speeds, rev/min, where the spindle is not set by hand. */
export const SPEED = {
  fine: 18000,
  cavity: 16000,
  surfacing: 14000,
  outer: 16000,
  roughing: 16000,
  vee: 18000,
  taper: 18000,
  drill: 10000,
}
/** That of the router switched by hand. */
export const BY_HAND = 16000

/** The same job with what the judge does not know of: for the silence on good work alone. */
export function withExtras(design: Design, chance: Chance): Design {
  const compact = !design.changer && chance.next() < 0.35
  const extras: Extras = {
    dialect: compact ? 'compact' : 'rs274ngc',
    terse: chance.next() < 0.3,
    roundPlug: chance.next() < 0.3,
    pins: chance.next() < 0.3,
    engraved: chance.next() < 0.4,
    roundOver: chance.next() < 0.4,
    touch: chance.next() < 0.3,
    resin: {
      by: chance.pick(['weight', 'volume']),
      shrinkage: chance.pick([0, 0.02]),
      maxPourDepth: chance.pick([3, 10]),
    },
    lengths: !compact && chance.next() < 0.3,
  }
  const hand = anyHand(chance, compact)
  if (!extras.pins) return { ...design, hand, extras }
  // Pins need room in the waste, and stand where they stand: the blank is turned over upon them, not about.
  const spins = { pocket: 0, level: 0, cavity: 0, outline: 0 } as const
  return { ...design, width: design.width + 24, spins, hand, extras }
}

/** Size of the dish as it lies for a step. */
export const lyingSize = ({ width, depth, spins }: Design, step: Step): readonly [number, number] =>
  sizeAfter([width, depth], spins[step])

/** Where X0 Y0 lies, from the near-left corner of what lies there. */
export function zeroFor({ zero }: Design, [width, depth]: readonly [number, number]): { x: number; y: number } {
  if (zero.corner === 'near-left') return { x: 0, y: 0 }
  return zero.corner === 'centre' ? { x: width / 2, y: depth / 2 } : { x: width, y: depth }
}
