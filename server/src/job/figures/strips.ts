/** A straight part of a bit's path seen from above, mm, and the bit's radius at each of a list of heights. */
export interface Strip {
  readonly ax: number
  readonly ay: number
  readonly bx: number
  readonly by: number
  /** -Infinity at heights where it does not cut. */
  readonly radii: readonly number[]
}

/** Strips looked at together: far ones are passed over at once. */
const GROUP = 16

interface Group {
  readonly strips: readonly Strip[]
  readonly box: readonly [x0: number, y0: number, x1: number, y1: number]
  readonly radius: number
}

/**
 * Strips that run along one line, once: deeper passes round one contour differ only in where they reach. At each height
 * the widest counts.
 */
export function merged(strips: readonly Strip[]): Strip[] {
  const byLine = new Map<string, Strip>()
  for (const strip of strips) {
    const a = `${Math.round(strip.ax * 1e4)} ${Math.round(strip.ay * 1e4)}`
    const b = `${Math.round(strip.bx * 1e4)} ${Math.round(strip.by * 1e4)}`
    const key = a < b ? `${a} ${b}` : `${b} ${a}`
    const kept = byLine.get(key)
    const radii = kept ? kept.radii.map((radius, n) => Math.max(radius, strip.radii[n])) : strip.radii
    byLine.set(key, { ...strip, radii })
  }
  return [...byLine.values()]
}

/**
 * Least distance between what two lists of strips sweep, at the height where it is least, and the middle of the gap;
 * negative where they overlap. Undefined where they share no height.
 */
export function nearestPair(
  ones: readonly Strip[],
  others: readonly Strip[],
): { readonly gap: number; readonly at: readonly [number, number] } | undefined {
  const groups = groupsOf(ones)
  const far = groupsOf(others)
  // The nearer boxes first: what they give lets the rest be passed over.
  const bounds = groups.map(a => far.reduce((least, b) => Math.min(least, apart(a, b)), Number.POSITIVE_INFINITY))
  const order = groups.map((_, n) => n).sort((a, b) => bounds[a] - bounds[b])
  let gap = Number.POSITIVE_INFINITY
  let nearest: readonly [Strip, Strip] | undefined
  for (const n of order) {
    if (bounds[n] >= gap) break
    const a = groups[n]
    for (const b of far) {
      if (apart(a, b) >= gap) continue
      for (const one of a.strips) {
        for (const other of b.strips) {
          const distance = distanceBetween(one, other)
          if (distance - a.radius - b.radius >= gap) continue
          const reach = widestTogether(one, other)
          if (distance - reach >= gap) continue
          gap = distance - reach
          nearest = [one, other]
        }
      }
    }
  }
  return nearest && { gap, at: middleBetween(...nearest) }
}

function groupsOf(strips: readonly Strip[]): Group[] {
  const groups: Group[] = []
  for (let n = 0; n < strips.length; n += GROUP) {
    const own = strips.slice(n, n + GROUP)
    const xs = own.flatMap(({ ax, bx }) => [ax, bx])
    const ys = own.flatMap(({ ay, by }) => [ay, by])
    groups.push({
      strips: own,
      box: [Math.min(...xs), Math.min(...ys), Math.max(...xs), Math.max(...ys)],
      radius: Math.max(...own.map(({ radii }) => Math.max(...radii, 0))),
    })
  }
  return groups
}

/** What two groups are at least apart. */
function apart({ box: a, radius }: Group, { box: b, radius: other }: Group): number {
  const dx = Math.max(0, a[0] - b[2], b[0] - a[2])
  const dy = Math.max(0, a[1] - b[3], b[1] - a[3])
  return Math.sqrt(dx * dx + dy * dy) - radius - other
}

/** -Infinity where the two share no height. */
function widestTogether({ radii: a }: Strip, { radii: b }: Strip): number {
  let widest = Number.NEGATIVE_INFINITY
  for (let n = 0; n < a.length; n++) if (a[n] + b[n] > widest) widest = a[n] + b[n]
  return widest
}

/** Least distance between two straight parts. */
function distanceBetween(a: Strip, b: Strip): number {
  if (cross(a, b)) return 0
  const least = Math.min(
    squareTo(a.ax, a.ay, b),
    squareTo(a.bx, a.by, b),
    squareTo(b.ax, b.ay, a),
    squareTo(b.bx, b.by, a),
  )
  return Math.sqrt(least)
}

/** Square of the distance from a point to a straight part. */
function squareTo(px: number, py: number, s: Strip): number {
  const t = shareAt(px, py, s)
  const dx = s.ax + t * (s.bx - s.ax) - px
  const dy = s.ay + t * (s.by - s.ay) - py
  return dx * dx + dy * dy
}

/** How far along a straight part the place nearest to a point lies, 0..1. */
function shareAt(px: number, py: number, { ax, ay, bx, by }: Strip): number {
  const dx = bx - ax
  const dy = by - ay
  const square = dx * dx + dy * dy
  return square === 0 ? 0 : Math.min(1, Math.max(0, ((px - ax) * dx + (py - ay) * dy) / square))
}

function cross(a: Strip, b: Strip): boolean {
  const side = (px: number, py: number, { ax, ay, bx, by }: Strip) => (bx - ax) * (py - ay) - (by - ay) * (px - ax)
  return side(a.ax, a.ay, b) * side(a.bx, a.by, b) < 0 && side(b.ax, b.ay, a) * side(b.bx, b.by, a) < 0
}

/** Middle between the nearest places of two straight parts. */
function middleBetween(a: Strip, b: Strip): readonly [number, number] {
  const ends = [
    [a.ax, a.ay, b],
    [a.bx, a.by, b],
    [b.ax, b.ay, a],
    [b.bx, b.by, a],
  ] as const
  const squares = ends.map(([x, y, part]) => squareTo(x, y, part))
  const [px, py, on] = ends[squares.indexOf(Math.min(...squares))]
  const t = shareAt(px, py, on)
  return [(px + on.ax + t * (on.bx - on.ax)) / 2, (py + on.ay + t * (on.by - on.ay)) / 2]
}
