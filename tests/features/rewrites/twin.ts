import type { Program } from '../../../server/src/machine/program.ts'

/** A place on a motion at a share of its way; its own geometry, so that the code under test is not its own judge. */
function placeOn({ motions }: Program, i: number, share: number): number[] {
  const before = i === 0 ? motions.start : [motions.x[i - 1], motions.y[i - 1], motions.z[i - 1]]
  const end = [motions.x[i], motions.y[i], motions.z[i]]
  const straight = [0, 1, 2].map(n => before[n] + share * (end[n] - before[n]))
  if (motions.arc[i] < 0 || share === 1) return share === 1 ? end : straight
  const arc = motions.arcs[motions.arc[i]]
  const [a, b] = arc.plane === 'XY' ? [0, 1] : arc.plane === 'ZX' ? [2, 0] : [1, 2]
  straight[a] = arc.centre[0] + arc.radius * Math.cos(arc.from + share * arc.sweep)
  straight[b] = arc.centre[1] + arc.radius * Math.sin(arc.from + share * arc.sweep)
  return straight
}

/**
 * Largest distance, mm, between the motions of one program taken by `to` and those of another; infinite where there are
 * not as many. The way of a move from one kind of line into another is not compared, its end is.
 */
export function farthestOff(
  one: Program,
  other: Program,
  to: (place: readonly number[], line: number) => readonly number[],
): number {
  if (one.motions.count !== other.motions.count) return Number.POSITIVE_INFINITY
  let most = 0
  for (let i = 0; i < one.motions.count; i++) {
    const line = one.motions.line[i]
    const lineBefore = i > 0 ? one.motions.line[i - 1] : line
    const seam = `${to([1, 2, 3], line)}` !== `${to([1, 2, 3], lineBefore)}`
    const slack = unsure(one, other, i)
    for (const share of seam ? [1] : [0.2, 0.4, 0.6, 0.8, 1]) {
      const wanted = to(placeOn(one, i, share), line)
      const found = placeOn(other, i, share)
      const off = Math.hypot(
        ...[0, 1, 2].map(n => (Number.isNaN(wanted[n]) && Number.isNaN(found[n]) ? 0 : wanted[n] - found[n])),
      )
      most = Math.max(most, Number.isNaN(off) ? Number.POSITIVE_INFINITY : off - (share === 1 ? 0 : slack))
    }
  }
  return most
}

/**
 * How well an arc is known, mm, at the size that it has in the other program: where the distances of its ends from its
 * centre differ by d, a circle through both has its centre d r / chord away; across from there that
 * may be twice as much, and its radius is d / 2 another.
 */
function unsure({ motions }: Program, other: Program, i: number): number {
  if (motions.arc[i] < 0) return 0
  const { centre, plane, radius } = motions.arcs[motions.arc[i]]
  const [a, b] = plane === 'XY' ? [0, 1] : plane === 'ZX' ? [2, 0] : [1, 2]
  const end = [motions.x[i], motions.y[i], motions.z[i]]
  const start = [motions.x[i - 1], motions.y[i - 1], motions.z[i - 1]]
  const size = (at: readonly number[]) => Math.hypot(at[a] - centre[0], at[b] - centre[1])
  const chord = Math.hypot(end[a] - start[a], end[b] - start[b])
  const differ = Math.abs(size(start) - size(end))
  const scale = other.motions.arcs[other.motions.arc[i]].radius / radius
  // NISTIR 6556, 3.5.3.2: 0.002 mm, 0.0002 in; as near to it as a program of either unit is written.
  const limit = other.states[other.motions.state[i]].units === 'inch' ? 0.0049 : 0.0019
  if (differ * scale <= limit || chord === 0) return 0
  return scale * (differ * (0.5 + (2 * radius) / chord))
}

/** Largest distance, mm, of places on either path from the other one, wherever on it: brute force, for tests only. */
export function pathsApart(one: Program, other: Program): number {
  return Math.max(oneWay(one, other), oneWay(other, one))
}

function oneWay(one: Program, other: Program): number {
  const pieces: [number[], number[]][] = []
  for (let i = 1; i < other.motions.count; i++) {
    const arc = other.motions.arc[i] < 0 ? undefined : other.motions.arcs[other.motions.arc[i]]
    // Chords no farther from the arc than 0.0002 mm.
    const count = arc ? Math.ceil(Math.abs(arc.sweep) / Math.sqrt((8 * 0.0002) / arc.radius)) : 1
    for (let n = 0; n < count; n++) pieces.push([placeOn(other, i, n / count), placeOn(other, i, (n + 1) / count)])
  }
  let most = 0
  for (let i = 1; i < one.motions.count; i++) {
    for (const share of [0.31, 1]) {
      const place = placeOn(one, i, share)
      if (!place.every(Number.isFinite)) continue
      let best = Number.POSITIVE_INFINITY
      for (const [a, b] of pieces) {
        if (place[0] < Math.min(a[0], b[0]) - 0.1 || place[0] > Math.max(a[0], b[0]) + 0.1) continue
        if (place[1] < Math.min(a[1], b[1]) - 0.1 || place[1] > Math.max(a[1], b[1]) + 0.1) continue
        const length = (b[0] - a[0]) ** 2 + (b[1] - a[1]) ** 2 + (b[2] - a[2]) ** 2
        const along = [0, 1, 2].reduce((sum, n) => sum + (place[n] - a[n]) * (b[n] - a[n]), 0)
        const t = length > 0 ? Math.min(1, Math.max(0, along / length)) : 0
        const off = Math.hypot(...[0, 1, 2].map(n => place[n] - a[n] - t * (b[n] - a[n])))
        if (off < best) best = off
      }
      most = Math.max(most, best)
    }
  }
  return most
}
