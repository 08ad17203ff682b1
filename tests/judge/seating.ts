import type { Step } from './reader.ts'

/**
 * The judge's fit: points of the walls that a path leaves, by throwing off to both sides of it and keeping what no other
 * piece of the path takes; the gap is the distance from a pocket's points to the plug's.
 */

interface Segment {
  readonly ax: number
  readonly ay: number
  readonly bx: number
  readonly by: number
}

type XY = readonly [number, number]

/** A bin of things by place, so that near ones are found. */
class Bins<T> {
  private readonly bins = new Map<number, T[]>()
  constructor(private readonly size: number) {}
  private key = (i: number, j: number): number => i * 65536 + j
  add(x0: number, y0: number, x1: number, y1: number, item: T): void {
    const f = (v: number) => Math.floor(v / this.size)
    for (let i = f(x0); i <= f(x1); i++)
      for (let j = f(y0); j <= f(y1); j++) {
        const key = this.key(i, j)
        const bin = this.bins.get(key)
        if (bin) bin.push(item)
        else this.bins.set(key, [item])
      }
  }
  at(x: number, y: number, rings = 0): T[] {
    const [i0, j0] = [Math.floor(x / this.size), Math.floor(y / this.size)]
    if (rings === 0) return this.bins.get(this.key(i0, j0)) ?? []
    const all: T[] = []
    for (let i = i0 - rings; i <= i0 + rings; i++)
      for (let j = j0 - rings; j <= j0 + rings; j++) all.push(...(this.bins.get(this.key(i, j)) ?? []))
    return all
  }
}

function distanceTo(s: Segment, x: number, y: number): number {
  const [dx, dy] = [s.bx - s.ax, s.by - s.ay]
  const square = dx * dx + dy * dy
  const t = square > 0 ? Math.max(0, Math.min(1, ((x - s.ax) * dx + (y - s.ay) * dy) / square)) : 0
  return Math.hypot(x - s.ax - t * dx, y - s.ay - t * dy)
}

/** Walls at one height: the points on them, and whether a place has been cut. */
export class Walls {
  readonly points: XY[] = []
  private readonly near = new Bins<Segment>(2)
  private readonly byPlace = new Bins<XY>(0.5)

  constructor(
    steps: readonly Step[],
    private readonly radius: number,
    height: number,
  ) {
    const segments = new Map<string, Segment>()
    for (const { from, to } of steps) {
      if ([...from, ...to].some(v => v === undefined || Number.isNaN(v))) continue
      if (Math.max(from[2]!, to[2]!) > height) continue
      const s = { ax: from[0]!, ay: from[1]!, bx: to[0]!, by: to[1]! }
      segments.set([s.ax, s.ay, s.bx, s.by].map(v => v.toFixed(3)).join(' '), s)
    }
    const margin = radius + 0.01
    for (const s of segments.values())
      this.near.add(
        Math.min(s.ax, s.bx) - margin,
        Math.min(s.ay, s.by) - margin,
        Math.max(s.ax, s.bx) + margin,
        Math.max(s.ay, s.by) + margin,
        s,
      )
    const seen = new Set<string>()
    const keep = (x: number, y: number): void => {
      const key = `${Math.round(x * 50)} ${Math.round(y * 50)}`
      if (seen.has(key) || this.isCut(x, y, 0.002)) return
      seen.add(key)
      this.points.push([x, y])
      this.byPlace.add(x, y, x, y, [x, y])
    }
    for (const s of segments.values()) {
      const length = Math.hypot(s.bx - s.ax, s.by - s.ay)
      if (length > 1e-6) {
        const [nx, ny] = [(-(s.by - s.ay) / length) * radius, ((s.bx - s.ax) / length) * radius]
        const count = Math.max(1, Math.ceil(length / 0.05))
        for (let k = 0; k <= count; k++) {
          const [x, y] = [s.ax + ((s.bx - s.ax) * k) / count, s.ay + ((s.by - s.ay) * k) / count]
          keep(x + nx, y + ny)
          keep(x - nx, y - ny)
        }
      }
      const round = Math.ceil((2 * Math.PI * radius) / 0.06)
      for (let k = 0; k < round; k++) {
        const a = (2 * Math.PI * k) / round
        keep(s.bx + radius * Math.cos(a), s.by + radius * Math.sin(a))
      }
    }
  }

  /** A bit passes nearer than its radius less `slack`. */
  isCut(x: number, y: number, slack: number): boolean {
    for (const s of this.near.at(x, y)) if (distanceTo(s, x, y) < this.radius - slack) return true
    return false
  }

  /** Distance to the nearest wall, looked for to 2 mm; negative where the place has not been cut. */
  gap(x: number, y: number): number {
    let least = 2
    for (const rings of [1, 4]) {
      for (const [px, py] of this.byPlace.at(x, y, rings)) least = Math.min(least, Math.hypot(px - x, py - y))
      if (least < 0.5) break
    }
    return this.isCut(x, y, 0) ? least : -least
  }
}

export interface Fit {
  readonly tightest: number
  readonly loosest: number
}

/** Points that hang together, and what lies inside them: a ring's island belongs to the ring. */
function groups(points: readonly XY[]): XY[][] {
  const near = new Bins<number>(0.5)
  points.forEach(([x, y], i) => {
    near.add(x, y, x, y, i)
  })
  const seen = new Uint8Array(points.length)
  const all: XY[][] = []
  for (let first = 0; first < points.length; first++) {
    if (seen[first]) continue
    seen[first] = 1
    const own = [first]
    for (let n = 0; n < own.length; n++)
      for (const other of near.at(...points[own[n]], 1)) {
        if (seen[other]) continue
        seen[other] = 1
        own.push(other)
      }
    all.push(own.map(i => points[i]))
  }
  return all
}

const box = (points: readonly XY[]) => {
  let [x0, y0, x1, y1] = [Infinity, Infinity, -Infinity, -Infinity]
  for (const [x, y] of points) {
    x0 = Math.min(x0, x)
    x1 = Math.max(x1, x)
    y0 = Math.min(y0, y)
    y1 = Math.max(y1, y)
  }
  return { x0, y0, x1, y1, wide: x1 - x0, deep: y1 - y0, middle: [(x0 + x1) / 2, (y0 + y1) / 2] as const }
}

/** Each pocket with what lies within it. */
function pocketsOf(points: readonly XY[]): XY[][] {
  const sorted = groups(points).sort((a, b) => box(b).wide * box(b).deep - box(a).wide * box(a).deep)
  const pockets: XY[][] = []
  for (const group of sorted) {
    const own = box(group)
    const outer = pockets.find(pocket => {
      const b = box(pocket)
      return own.x0 > b.x0 && own.x1 < b.x1 && own.y0 > b.y0 && own.y1 < b.y1
    })
    if (outer) outer.push(...group)
    else pockets.push([...group])
  }
  return pockets
}

/** How nearly the boxes of a pocket and of a piece agree, either way round, mm. */
const ALIKE = 1.5

/** Seats every piece of a plug in the pocket that is like it: sawn off, the pieces are each for itself. */
export function seat(pocket: readonly XY[], plug: Walls): Fit | undefined {
  if (pocket.length === 0 || plug.points.length === 0) return undefined
  const standing = groups(plug.points).map(box)
  let result: Fit | undefined
  for (const points of pocketsOf(pocket)) {
    const own = box(points)
    const alike = standing.filter(
      ({ wide, deep }) =>
        (Math.abs(wide - own.wide) < ALIKE && Math.abs(deep - own.deep) < ALIKE) ||
        (Math.abs(wide - own.deep) < ALIKE && Math.abs(deep - own.wide) < ALIKE),
    )
    // Where nothing is alike, the moat's outer wall stands all about the piece: its middle will do.
    const middles = alike.length > 0 ? alike.map(one => one.middle) : [box(plug.points).middle]
    const fits = middles.map(middle => seatOne(points, plug, middle))
    const best = fits.reduce((a, b) => (b.tightest > a.tightest ? b : a))
    result = result
      ? { tightest: Math.min(result.tightest, best.tightest), loosest: Math.max(result.loosest, best.loosest) }
      : best
  }
  return result
}

/** By hand: turned by quarters, then shifted and turned finely to where the tightest place is widest. */
function seatOne(pocket: readonly XY[], plug: Walls, [tx, ty]: XY): Fit {
  const thin = pocket.filter((_, i) => i % Math.max(1, Math.floor(pocket.length / 500)) === 0)
  const [cx, cy] = box(pocket).middle
  const look = (points: readonly XY[], [dx, dy, angle]: readonly number[]): Fit => {
    const [c, s] = [Math.cos(angle), Math.sin(angle)]
    let [tightest, loosest] = [Infinity, -Infinity]
    for (const [x, y] of points) {
      const gap = plug.gap(tx + dx + c * (x - cx) - s * (y - cy), ty + dy + s * (x - cx) + c * (y - cy))
      tightest = Math.min(tightest, gap)
      loosest = Math.max(loosest, gap)
    }
    return { tightest, loosest }
  }
  let best = { at: [0, 0, 0], value: -Infinity }
  for (let quarter = 0; quarter < 4; quarter++) {
    const found = climb([0, 0, (quarter * Math.PI) / 2], at => look(thin, at).tightest)
    if (found.value > best.value) best = found
    if (best.value > 0.03) break
  }
  return look(pocket, best.at)
}

function climb(start: readonly number[], value: (at: readonly number[]) => number): { at: number[]; value: number } {
  let best = { at: [...start], value: value(start) }
  for (let step = 0.4; step > 0.004; ) {
    let better = false
    for (const [k, scale] of [1, 1, 0.06].entries()) {
      for (const sign of [-1, 1]) {
        const at = best.at.with(k, best.at[k] + sign * step * scale)
        const found = value(at)
        if (found > best.value + 1e-6) {
          best = { at, value: found }
          better = true
        }
      }
    }
    if (!better) step /= 2
  }
  return best
}
