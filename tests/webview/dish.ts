import type { PreviewJob, PreviewSetup } from '../../server/src/features/preview/protocol.ts'
import { type Arc, MotionKind, type Motions } from '../../server/src/machine/motions.ts'
import type { Bit } from '../../server/src/stock/bit.ts'
import { carve } from '../../server/src/stock/carve.ts'
import { asItLies, asReceived } from '../../server/src/stock/lie.ts'
import { newStock } from '../../server/src/stock/stock.ts'

/**
 * A dish as the page gets it, made without the stages before: a maple blank, a sprig of walnut let into its underside,
 * levelled, the cavity cut from the top until the sprig shows, the outline, the saw, round edges.
 */
const size = { width: 220, depth: 160, thickness: 24 }

const bit = (number: number, name: string, change: Partial<Bit>): Bit => ({
  number,
  name,
  shape: 'flat',
  diameter: 6,
  cornerRadius: 0,
  angle: 0,
  tipDiameter: 0,
  spiral: 'down',
  flutes: 2,
  cuttingLength: 25,
  stickout: 34,
  shankDiameter: 6,
  colletDiameter: 20,
  centreCutting: true,
  maxRampAngle: 90,
  maxPassDepth: 3,
  chipLoad: [0.03, 0.12],
  chipLoadDeclared: true,
  maxSpeed: 24000,
  maxPlungeFeed: 400,
  ...change,
})

const small = bit(1, '3 mm down-cut', { diameter: 3, shankDiameter: 6 })
const broad = bit(2, '22 mm surfacing bit', { diameter: 22, cuttingLength: 12, shankDiameter: 8, spiral: 'straight' })
const bowl = bit(3, '19 mm bowl bit', {
  shape: 'bowl',
  diameter: 19,
  cornerRadius: 6,
  cuttingLength: 16,
  shankDiameter: 8,
})
const side = bit(4, '6 mm up-cut', { spiral: 'up', cuttingLength: 26 })

/** Motions written down one after the other; program coordinates with Z0 on the face. */
class Path {
  private readonly rows: { kind: number; x: number; y: number; z: number; arc: number }[] = []
  private readonly arcs: Arc[] = []
  private p: [number, number, number] = [0, 0, 20]

  rapid(x: number, y: number, z: number): this {
    return this.add(MotionKind.rapid, x, y, z, -1)
  }

  cut(x: number, y: number, z: number): this {
    return this.add(MotionKind.line, x, y, z, -1)
  }

  /** To a point, counter-clockwise (or not) about a centre. */
  arc(cx: number, cy: number, x: number, y: number, z: number, counter = true): this {
    const from = Math.atan2(this.p[1] - cy, this.p[0] - cx)
    let sweep = Math.atan2(y - cy, x - cx) - from
    if (counter && sweep <= 1e-9) sweep += 2 * Math.PI
    if (!counter && sweep >= -1e-9) sweep -= 2 * Math.PI
    this.arcs.push({ plane: 'XY', centre: [cx, cy], radius: Math.hypot(this.p[0] - cx, this.p[1] - cy), sweep, from })
    const kind = counter ? MotionKind.arcCounterClockwise : MotionKind.arcClockwise
    return this.add(kind, x, y, z, this.arcs.length - 1)
  }

  private add(kind: number, x: number, y: number, z: number, arc: number): this {
    this.p = [x, y, z]
    this.rows.push({ kind, x, y, z, arc })
    return this
  }

  motions(): Motions {
    const { rows } = this
    return {
      count: rows.length,
      kind: Uint8Array.from(rows, row => row.kind),
      flags: new Uint8Array(rows.length),
      x: Float64Array.from(rows, row => row.x),
      y: Float64Array.from(rows, row => row.y),
      z: Float64Array.from(rows, row => row.z),
      line: Uint32Array.from(rows, (_, i) => i + 6),
      state: new Uint32Array(rows.length),
      arc: Int32Array.from(rows, row => row.arc),
      arcs: this.arcs,
      start: [0, 0, 20],
    }
  }
}

/** A leaf: two arcs of `radius` between two tips, `length` apart, turned by `angle`. */
interface Leaf {
  readonly x: number
  readonly y: number
  readonly angle: number
  readonly length: number
  readonly width: number
}

const sprig: readonly Leaf[] = [
  { x: 110, y: 80, angle: 0.12, length: 128, width: 7 },
  ...[-48, -26, -4, 18, 38].flatMap((along, i): Leaf[] => {
    const length = 40 - 4.2 * i
    const stem = { x: 110 + along * Math.cos(0.12), y: 80 + along * Math.sin(0.12) }
    return [1, -1].map(way => {
      const angle = 0.12 + way * 0.72
      return {
        x: stem.x + Math.cos(angle) * (length / 2 + 1),
        y: stem.y + Math.sin(angle) * (length / 2 + 1),
        angle,
        length,
        width: length * 0.3,
      }
    })
  }),
]

/** Clears a leaf with a bit of radius `r`, in rings from the inside, at one depth. */
function leafAt(path: Path, leaf: Leaf, r: number, z: number) {
  const half = leaf.width / 2
  const radius = ((leaf.length / 2) ** 2 + half ** 2) / (2 * half)
  const off = radius - half
  const at = (u: number, v: number): [number, number] => [
    // Mirrored: the sprig is cut into the underside, turned about Y.
    size.width - (leaf.x + u * Math.cos(leaf.angle) - v * Math.sin(leaf.angle)),
    leaf.y + u * Math.sin(leaf.angle) + v * Math.cos(leaf.angle),
  ]
  for (let inset = Math.max(r, half - 0.2); ; inset = Math.max(r, inset - 1.2)) {
    const inner = radius - inset
    const reach = Math.sqrt(Math.max(0.01, inner * inner - off * off))
    const [ax, ay] = at(-reach, 0)
    const [bx, by] = at(reach, 0)
    const [cx, cy] = at(0, off)
    const [dx, dy] = at(0, -off)
    path.rapid(ax, ay, 2).cut(ax, ay, z)
    path.arc(cx, cy, bx, by, z, false).arc(dx, dy, ax, ay, z, false)
    path.rapid(ax, ay, 2)
    if (inset <= r) return
  }
}

/** Once round a rounded rectangle of half sizes a x b about the blank's middle, from a point on its near side. */
function around(path: Path, a: number, b: number, r: number, z: number) {
  const [cx, cy] = [size.width / 2, size.depth / 2]
  path.cut(cx, cy - b, z).cut(cx + a - r, cy - b, z)
  path.arc(cx + a - r, cy - b + r, cx + a, cy - b + r, z).cut(cx + a, cy + b - r, z)
  path.arc(cx + a - r, cy + b - r, cx + a - r, cy + b, z).cut(cx - a + r, cy + b, z)
  path.arc(cx - a + r, cy + b - r, cx - a, cy + b - r, z).cut(cx - a, cy - b + r, z)
  path.arc(cx - a + r, cy - b + r, cx - a + r, cy - b, z).cut(cx, cy - b, z)
}

function pocket(): Motions {
  const path = new Path()
  for (const leaf of sprig) for (const z of [-2.5, -5, -7.5, -10]) leafAt(path, leaf, small.diameter / 2, z)
  return path.rapid(0, 0, 20).motions()
}

function level(): Motions {
  const path = new Path().rapid(-14, -4, 5).cut(-14, -4, -0.8)
  let right = true
  for (let y = -4; y <= 168; y += 14) {
    path.cut(right ? 234 : -14, y, -0.8)
    path.cut(right ? 234 : -14, Math.min(168, y + 14), -0.8)
    right = !right
  }
  return path.rapid(0, 0, 20).motions()
}

function cavity(): Motions {
  const path = new Path()
  for (let z = -2; z >= -16; z -= 2) {
    path
      .rapid(110, 80, z + 4)
      .cut(110, 80, z + 2.5)
      .cut(135, 80, z + 1)
      .cut(110, 80, z)
    for (let inset = 46; inset >= 0; inset -= 6.5)
      around(path, 94 - 9.5 - inset, 64 - 9.5 - inset, Math.max(1, 22 - inset * 0.3), z)
    for (const y of [76, 84]) path.cut(72, y, z).cut(148, y, z)
    path.rapid(110, 80, 6)
  }
  return path.rapid(0, 0, 20).motions()
}

function outline(): Motions {
  const path = new Path().rapid(110, 80 - 75, 5)
  for (let z = -3; z > -22; z -= 3) around(path, 102 + 3, 72 + 3, 33, z)
  around(path, 102 + 3, 72 + 3, 33, -22.8)
  return path.rapid(110, 5, 20).motions()
}

function program(
  name: string,
  face: 'top' | 'underside',
  makes: 'pocket' | 'level' | 'cavity' | 'outline',
  motions: Motions,
  used: Bit,
  feed: number,
  faceLevel: number,
): Extract<PreviewSetup, { kind: 'program' }> {
  return {
    kind: 'program',
    name,
    blank: 'dish',
    makes,
    program: `file:///shop/${name}.nc`,
    lie: { face, turn: 'sideways', spin: 0 },
    shift: [0, 0, faceLevel],
    motions,
    bits: [used],
    bitOfState: Int16Array.of(0),
    feedOfState: Float64Array.of(feed),
    speedOfState: Float64Array.of(16_000),
    axial: new Float32Array(motions.count).fill(2),
    radial: new Float32Array(motions.count).fill(1),
    faceLevel,
    operations: [{ title: makes, firstLine: 0, lastLine: motions.count + 6 }],
  }
}

/** What fills the pocket: walnut, half a millimetre proud of the underside, a film of glue over it. */
function plug(setup: Extract<PreviewSetup, { kind: 'program' }>, cell: number): PreviewSetup {
  const lying = asItLies(newStock({ ...size }, cell), setup.lie, size.thickness)
  carve(lying, setup.motions, { shift: setup.shift, bitOfState: [small] })
  const stock = asReceived(lying, setup.lie, size.thickness)
  const cells: number[] = []
  const hi: number[] = []
  stock.layers[0].lo.forEach((lo, index) => {
    if (lo < 0.5) return
    cells.push(index)
    hi.push(lo - 0.1)
  })
  return {
    kind: 'insert',
    name: 'glue',
    blank: 'dish',
    of: 'plug',
    material: 'walnut, black',
    cells: Uint32Array.from(cells),
    lo: new Float32Array(cells.length).fill(-0.5),
    hi: Float32Array.from(hi),
    film: 0,
  }
}

/** The dish in cells of that side, mm; `change` replaces what a test is about. */
export function dishJob(change: Partial<PreviewJob> = {}, cell = 0.5): PreviewJob {
  const first = program('pocket', 'underside', 'pocket', pocket(), small, 1500, 24)
  return {
    title: 'Sprig dish, walnut in maple',
    sheet: 'file:///shop/dish.jobsheet.json',
    copy: 'A',
    copies: ['A', 'B'],
    blanks: [{ name: 'dish', ...size, material: 'maple, sugar', grain: 'x' }],
    cell,
    setups: [
      first,
      plug(first, cell),
      program('level', 'underside', 'level', level(), broad, 2200, 24),
      program('cavity', 'top', 'cavity', cavity(), bowl, 2000, 24),
      program('outline', 'top', 'outline', outline(), side, 1800, 24),
      { kind: 'saw', name: 'free', blank: 'dish', face: 'underside', at: 1.3 },
      { kind: 'hand', name: 'edges', blank: 'dish', roundOver: 3 },
    ],
    figures: {
      floor: { nominal: 6.7, least: 5.9, most: 7.3, at: [110, 80] },
      wall: { nominal: 8, least: 7.5, most: 8.2, at: [14, 80] },
      reveal: { nominal: 1.9, least: 1.3, most: 2.5, at: [110, 80], shown: 1 },
      inlayLeft: { nominal: 6.7, least: 5.9, most: 7.3, at: [110, 80] },
      fit: {
        tightest: { nominal: 0.08, least: 0.06, most: 0.1 },
        loosest: { nominal: 0.13, least: 0.11, most: 0.15 },
        gapBeneath: 0.1,
        proud: 0.5,
        mirrored: true,
        pieces: [],
        gluedHeight: 9.2,
        sawAt: 10,
      },
      level: { proud: 0 },
      finalVolume: 241_000,
    },
    limits: { floor: 4, wall: 5, inlayLeft: 2, reveal: 0.3, clearance: [0.05, 0.15], gapBeneath: 0.5 },
    figuresOfCopies: [],
    keepOut: [],
    findings: [
      {
        code: 'plunge/too-fast',
        severity: 'warning',
        message: 'The bit goes down at 1500 mm/min here; this one takes 400 mm/min at most going down.',
        file: 'file:///shop/pocket.nc',
        range: { start: { line: 7, character: 0 }, end: { line: 7, character: 6 } },
        setup: 'pocket',
      },
    ],
    ...change,
  }
}
