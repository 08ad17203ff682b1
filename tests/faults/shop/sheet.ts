import { bitsOf } from './bits.ts'
import { BY_HAND, DEPTHS, type Design, lyingSize, type Step, zeroFor } from './design.ts'
import { PLUG_BLANK, pinsOf } from './places.ts'

type Json = Record<string, unknown>

/** The job sheet's text: lengths in the sheet's units, rounded as a person would write them. */
export function sheetOf(design: Design): string {
  const inch = design.units.sheet === 'inch'
  const len = (mm: number) => Number((inch ? mm / 25.4 : mm).toFixed(inch ? 5 : 3))
  const lens = (...mm: number[]) => mm.map(len)
  const { extras } = design
  const sheet = {
    title: 'a small dish',
    units: design.units.sheet,
    ...(extras?.terse ? {} : { limits: limits(len), tolerances: tolerances(len) }),
    machine: {
      dialect: extras?.dialect ?? 'rs274ngc',
      ...(extras?.terse
        ? {}
        : {
            travel: lens(600, 400, 90),
            maxFeed: lens(5000, 5000, 1500),
            rapidFeed: lens(5000, 5000, 1500),
            acceleration: lens(400, 400, 200),
            clearance: len(1.5),
          }),
      spindle: design.manual ? { manual: true, speed: BY_HAND } : { min: 8000, max: 24000, power: 800 },
    },
    bits: bitsOf(design, len),
    blanks: blanksOf(design, len),
    setups: setupsOf(design, len),
  }
  return `${JSON.stringify(sheet, null, 2)}\n`
}

type Len = (mm: number) => number

const limits = (len: Len) => ({
  floor: len(4),
  wall: len(5),
  inlayLeft: len(2),
  reveal: len(0.3),
  clearance: [len(0.05), len(0.15)],
  gapBeneath: len(0.5),
})

const tolerances = (len: Len) => ({
  thickness: len(0.2),
  zero: len(0.1),
  flatness: len(0.1),
  bed: len(0.1),
  register: len(0.3),
  bitDiameter: len(0.02),
  sanding: len(0.2),
})

function blanksOf({ width, depth, thick, copies, resin, extras }: Design, len: Len): Json {
  const wood = (material: string) => ({ material, ...(extras?.terse ? {} : { moisture: 8, grain: 'x' }) })
  const measured = copies.map((more, n) => ['ABC'[n], { thickness: len(thick + more) }])
  const plugs = extras?.roundPlug
    ? { diameter: len(PLUG_BLANK), thickness: len(14) }
    : { size: [len(PLUG_BLANK), len(PLUG_BLANK), len(14)] }
  return {
    dish: {
      size: [len(width), len(depth), len(thick)],
      ...wood('maple, sugar'),
      ...(copies.length > 0 ? { copies: Object.fromEntries(measured) } : {}),
    },
    ...(resin ? {} : { plugs: { ...plugs, ...wood('walnut, black') } }),
  }
}

function setupsOf(design: Design, len: Len): Json[] {
  const { extras, spins } = design
  const withBit = (number: string) => (design.changer ? {} : { bit: number })
  const offset = design.zero.offset === 0 ? {} : { offset: len(design.zero.offset) }
  const zeroed = (size: readonly [number, number], z: object = {}): Json => {
    const { x, y } = zeroFor(design, size)
    const middle = design.zero.corner === 'centre'
    const place = middle ? { x: 'centre', y: 'centre' } : x === 0 && y === 0 ? {} : { x: len(x), y: len(y) }
    return { ...place, ...z }
  }
  const touched = extras?.touch ? { touch: [len(4), len(4)] } : {}
  const program = (name: string, step: Step, makes: string, bit: string, z: object): Json => ({
    name,
    blank: 'dish',
    ...(step === 'pocket' || step === 'level' ? { face: 'underside', turn: design.turn } : { face: 'top' }),
    ...(spins[step] === 0 ? {} : { spin: spins[step] }),
    program: `${name}.nc`,
    makes,
    ...withBit(bit),
    zero: zeroed(lyingSize(design, step), z),
    ...(extras?.pins ? { locate: { by: 'pins', pins: pinsOf(design).map(({ x, y }) => [len(x), len(y)]) } } : {}),
  })
  const plug = {
    name: 'plug',
    blank: 'plugs',
    face: 'top',
    program: 'plug.nc',
    makes: 'plug',
    sawAt: len(DEPTHS.carved),
    ...withBit('1'),
    zero: zeroed([PLUG_BLANK, PLUG_BLANK]),
    held: 'tape',
  }
  const pour = { ...(extras?.resin ?? { by: 'weight' }), density: 1.1, ratio: [2, 1], overfill: 0.05 }
  const maxPourDepth = extras ? { maxPourDepth: len(extras.resin.maxPourDepth) } : {}
  const insert = design.resin
    ? { name: 'pour', blank: 'dish', insert: { resin: { ...pour, ...maxPourDepth }, into: 'pocket' } }
    : { name: 'glue', blank: 'dish', insert: { plug: 'plug', into: 'pocket', glueLine: len(DEPTHS.glue) } }
  const bed = { z: 'bed' }
  const cavityZero = design.zero.cavityOnBed ? bed : offset
  // Once roughed out, there is no face left in the middle to touch off on, and no need to.
  const kept = { z: 'kept' }
  return [
    ...(design.resin ? [] : [plug]),
    ...(extras?.pins ? [program('pins', 'cavity', 'other', '8', offset)] : []),
    program('pocket', 'pocket', 'pocket', '1', design.zero.pocketOnBed ? bed : { ...offset, ...touched }),
    insert,
    program('level', 'level', 'level', '3', { ...offset, ...touched }),
    ...(design.rough === 'program' ? [program('rough', 'cavity', 'cavity', '5', cavityZero)] : []),
    program('cavity', 'cavity', 'cavity', '2', design.rough === 'program' ? kept : cavityZero),
    ...(extras?.engraved
      ? [program('rim', 'cavity', 'other', '6', kept), program('lines', 'cavity', 'other', '7', kept)]
      : []),
    { ...program('outline', 'outline', 'outline', '4', design.zero.kept ? kept : bed), held: 'tape' },
    ...(extras?.roundOver ? [{ name: 'edges', blank: 'dish', hand: { roundOver: len(3), bearing: len(8) } }] : []),
  ]
}
