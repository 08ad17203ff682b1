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
 * Least distance between what two lists of strips sweep, at the height where it is least, and the middle of the gap;
 * negative where they overlap. Undefined where they share no height.
 */
export function nearestPair(
  ones: readonly Strip[],
  others: readonly Strip[],
): { readonly gap: number; readonly at: readonly [number, number] } | undefined {
  let best: { gap: number; at: readonly [number, number] } | undefined
  const far = groupsOf(others)
  for (const a of groupsOf(ones)) {
    for (const b of far) {
      if (best && boxDistance(a.box, b.box) - a.radius - b.radius >= best.gap) continue
      for (const one of a.strips) {
        for (const other of b.strips) {
          const reach = widestTogether(one, other)
          if (reach === Number.NEGATIVE_INFINITY) continue
          const { distance, at } = distanceBetween(one, other)
          if (!best || distance - reach < best.gap) best = { gap: distance - reach, at }
        }
      }
    }
  }
  return best
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

function boxDistance(a: Group['box'], b: Group['box']): number {
  return Math.hypot(Math.max(0, a[0] - b[2], b[0] - a[2]), Math.max(0, a[1] - b[3], b[1] - a[3]))
}

function widestTogether({ radii: a }: Strip, { radii: b }: Strip): number {
  let widest = Number.NEGATIVE_INFINITY
  for (let n = 0; n < a.length; n++) widest = Math.max(widest, a[n] + b[n])
  return widest
}

/** Least distance between two straight parts, and the middle between their nearest points. */
export function distanceBetween(a: Strip, b: Strip): { distance: number; at: readonly [number, number] } {
  const crossing = crossingOf(a, b)
  if (crossing) return { distance: 0, at: crossing }
  let distance = Number.POSITIVE_INFINITY
  let at: readonly [number, number] = [0, 0]
  const take = (px: number, py: number, s: Strip) => {
    const [qx, qy] = nearestOn(px, py, s)
    const d = Math.hypot(px - qx, py - qy)
    if (d < distance) {
      distance = d
      at = [(px + qx) / 2, (py + qy) / 2]
    }
  }
  take(a.ax, a.ay, b)
  take(a.bx, a.by, b)
  take(b.ax, b.ay, a)
  take(b.bx, b.by, a)
  return { distance, at }
}

function nearestOn(px: number, py: number, { ax, ay, bx, by }: Strip): [number, number] {
  const [dx, dy] = [bx - ax, by - ay]
  const length2 = dx * dx + dy * dy
  const t = length2 === 0 ? 0 : Math.min(1, Math.max(0, ((px - ax) * dx + (py - ay) * dy) / length2))
  return [ax + t * dx, ay + t * dy]
}

function crossingOf(a: Strip, b: Strip): [number, number] | undefined {
  const [ux, uy, vx, vy] = [a.bx - a.ax, a.by - a.ay, b.bx - b.ax, b.by - b.ay]
  const cross = ux * vy - uy * vx
  if (Math.abs(cross) < 1e-12) return undefined
  const s = ((b.ax - a.ax) * vy - (b.ay - a.ay) * vx) / cross
  const t = ((b.ax - a.ax) * uy - (b.ay - a.ay) * ux) / cross
  return s >= 0 && s <= 1 && t >= 0 && t <= 1 ? [a.ax + s * ux, a.ay + s * uy] : undefined
}
