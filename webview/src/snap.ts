import type { Column, ExactColumns } from './exactColumn.ts'

/** A place of the piece that something is measured from, blank frame, mm. */
export interface Place {
  readonly at: readonly [number, number, number]
  /** `corner`: where a wall meets a floor or a face. */
  readonly on: 'floor' | 'wall' | 'corner' | 'surface'
  /** Below the face that is looked at, and solid under it. */
  readonly depth: number
  readonly thickness: number
}

const DIRECTIONS = 24
const PROBES = 8
/** Surfaces that differ by more than this between two probes, mm, and more steeply than 4 to 1, have a wall between. */
const RISE = 0.4
const STEEP = 4
/** Nearer than this to a wall's foot or head, mm, is its corner. */
const CORNER = 0.6
/** A floor is level to within this, mm, over a mm. */
const LEVEL = 0.005

/**
 * The place meant by pointing at (x, y, z): a wall within `reach` mm is taken exactly, at the height pointed at or at
 * its corner; else the floor or surface there. Undefined where there is no wood.
 * @param upper whether the blank's upper face is looked at
 */
export function snap(
  columns: ExactColumns,
  [x, y, z]: readonly [number, number, number],
  upper: boolean,
  reach: number,
): Place | undefined {
  const { blank } = columns
  const surface = ({ solids }: Column) =>
    solids.length ? (upper ? solids[solids.length - 1].hi : -solids[0].lo) : Number.NEGATIVE_INFINITY
  const heightAt = (px: number, py: number) => surface(columns.at(px, py))
  const place = (px: number, py: number, height: number, on: Place['on'], of: Column): Place => ({
    at: [px, py, upper ? height : -height],
    on,
    depth: upper ? blank.thickness - height : -height,
    thickness: of.solids.reduce((sum, { lo, hi }) => sum + hi - lo, 0),
  })
  const here = columns.at(x, y)
  const own = surface(here)
  let best: { distance: number; angle: number } | undefined
  const wallOn = (angle: number, within: number): number | undefined => {
    let before = own
    for (let k = 1; k <= PROBES; k++) {
      const d = (within * k) / PROBES
      const height = heightAt(x + Math.cos(angle) * d, y + Math.sin(angle) * d)
      const rise = Math.abs(height - before)
      if (rise > RISE && rise > (STEEP * within) / PROBES) {
        let near = d - within / PROBES
        let far = d
        for (let n = 0; n < 16; n++) {
          const middle = (near + far) / 2
          const there = heightAt(x + Math.cos(angle) * middle, y + Math.sin(angle) * middle)
          if (Math.abs(there - before) < rise / 2) near = middle
          else far = middle
        }
        return (near + far) / 2
      }
      before = height
    }
    return undefined
  }
  for (let k = 0; k < DIRECTIONS; k++) {
    const angle = (k / DIRECTIONS) * 2 * Math.PI
    const distance = wallOn(angle, reach)
    if (distance !== undefined && (!best || distance < best.distance)) best = { distance, angle }
  }
  if (best) {
    // The nearest point of the wall lies between the directions tried.
    let step = Math.PI / DIRECTIONS
    for (let n = 0; n < 7; n++, step /= 2) {
      const around: number[] = [best.angle - step, best.angle + step]
      for (const angle of around) {
        const distance = wallOn(angle, reach)
        if (distance !== undefined && distance < best.distance) best = { distance, angle }
      }
    }
    const [dx, dy] = [Math.cos(best.angle), Math.sin(best.angle)]
    const [wx, wy] = [x + dx * best.distance, y + dy * best.distance]
    const sides = [-0.005, 0.005].map(off => columns.at(wx + dx * off, wy + dy * off))
    const [low, high] = sides.toSorted((a, b) => surface(a) - surface(b))
    const top = surface(high)
    const foot = Number.isFinite(surface(low)) ? surface(low) : farEnd(high, upper)
    const pointed = upper ? z : -z
    if (pointed - foot < CORNER && pointed - foot <= top - pointed) return place(wx, wy, foot, 'corner', low)
    if (top - pointed < CORNER) return place(wx, wy, top, 'corner', high)
    return place(wx, wy, Math.min(top, Math.max(foot, pointed)), 'wall', high)
  }
  if (!Number.isFinite(own)) return undefined
  const level = [0.5, -0.5].every(
    d => Math.abs(heightAt(x + d, y) - own) < LEVEL && Math.abs(heightAt(x, y + d) - own) < LEVEL,
  )
  return place(x, y, own, level ? 'floor' : 'surface', here)
}

/** Where a wall that goes down to nothing ends. */
function farEnd({ solids }: Column, upper: boolean): number {
  return upper ? solids[0].lo : -solids[solids.length - 1].hi
}
