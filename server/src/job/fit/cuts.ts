import { PLANE_AXES } from '../../machine/arcs.ts'
import { type Arc, MotionKind } from '../../machine/motions.ts'
import { type Profile, profileOf } from '../../stock/profile.ts'
import type { CarvedFace } from './input.ts'
import { CHORD } from './tolerances.ts'

/** A straight piece of the path of a bit's tip below the face, frame of the blank as it lies, mm. */
export interface Cut {
  readonly ax: number
  readonly ay: number
  readonly az: number
  readonly bx: number
  readonly by: number
  readonly bz: number
  readonly profile: Profile
}

/**
 * Feed motions that go below the face, arcs as chords, in the order of the program. What an equal or deeper cut along
 * the same line makes needless (the upper passes round one contour) is left out.
 */
export function cutsOf(face: CarvedFace): Cut[] {
  const all: Cut[] = []
  const profiles = face.bitOfState.map(bit => bit && profileOf(bit))
  const { motions, shift, faceLevel } = face
  let [x, y, z] = motions.start
  for (let i = 0; i < motions.count; i++) {
    const from = [x, y, z]
    x = motions.x[i]
    y = motions.y[i]
    z = motions.z[i]
    const kind = motions.kind[i]
    if (kind === MotionKind.rapid || kind === MotionKind.probe) continue
    const profile = profiles[motions.state[i]]
    if (!profile || !Number.isFinite(x + y + z + from[0] + from[1] + from[2])) continue
    const arc = motions.arc[i] >= 0 ? motions.arcs[motions.arc[i]] : undefined
    let last = from
    for (const point of arc ? chords(arc, from, [x, y, z]) : [[x, y, z]]) {
      if (Math.min(last[2], point[2]) + shift[2] < faceLevel - 1e-6) {
        all.push({
          ax: last[0] + shift[0],
          ay: last[1] + shift[1],
          az: last[2] + shift[2],
          bx: point[0] + shift[0],
          by: point[1] + shift[1],
          bz: point[2] + shift[2],
          profile,
        })
      }
      last = point
    }
  }
  return withoutCovered(withoutPlunges(all))
}

/** Points along an arc after its start, the last of them the end of the motion; radius and third axis run evenly. */
function chords(arc: Arc, start: readonly number[], end: readonly number[]): number[][] {
  const [first, second, third] = PLANE_AXES[arc.plane]
  const [c1, c2] = arc.centre
  const radius0 = Math.hypot(start[first] - c1, start[second] - c2)
  const radius1 = Math.hypot(end[first] - c1, end[second] - c2)
  const widest = Math.max(radius0, radius1, CHORD)
  const step = 2 * Math.acos(Math.max(0, 1 - CHORD / widest))
  const count = Math.min(10_000, Math.max(1, Math.ceil(Math.abs(arc.sweep) / step)))
  const points: number[][] = []
  for (let k = 1; k < count; k++) {
    const share = k / count
    const angle = arc.from + arc.sweep * share
    const radius = radius0 + (radius1 - radius0) * share
    const point = [0, 0, 0]
    point[first] = c1 + radius * Math.cos(angle)
    point[second] = c2 + radius * Math.sin(angle)
    point[third] = start[third] + (end[third] - start[third]) * share
    points.push(point)
  }
  points.push([...end])
  return points
}

const isUpright = (cut: Cut) => Math.hypot(cut.bx - cut.ax, cut.by - cut.ay) < 1e-6

/** A move straight down cuts nothing that the move from its lower end does not cut too. */
function withoutPlunges(cuts: readonly Cut[]): Cut[] {
  return cuts.filter((cut, i) => {
    if (!isUpright(cut)) return true
    const next = cuts[i + 1]
    const before = cuts[i - 1]
    const down = cut.bz <= cut.az
    if (down && next && next.profile === cut.profile && next.ax === cut.bx && next.ay === cut.by) {
      return next.az > cut.bz
    }
    if (!down && before && before.profile === cut.profile && before.bx === cut.ax && before.by === cut.ay) {
      return before.bz > cut.az
    }
    return true
  })
}

function withoutCovered(cuts: readonly Cut[]): Cut[] {
  // By a number of the line that is the same either way along it; other lines may share the number by chance.
  const byLine = new Map<number, Cut[]>()
  const needless = new Set<Cut>()
  for (const cut of cuts) {
    const key = placeNumber(cut.ax, cut.ay) ^ placeNumber(cut.bx, cut.by)
    const others = byLine.get(key)
    if (!others) {
      byLine.set(key, [cut])
      continue
    }
    for (const other of others) {
      if (other.profile !== cut.profile || needless.has(other) || !sameLine(cut, other)) continue
      if (noHigher(other, cut)) {
        needless.add(cut)
        break
      }
      if (noHigher(cut, other)) needless.add(other)
    }
    others.push(cut)
  }
  return needless.size === 0 ? [...cuts] : cuts.filter(cut => !needless.has(cut))
}

/** Places are one to a hundred-thousandth of a mm. */
const unit = (value: number) => Math.round(value * 1e5)

const placeNumber = (x: number, y: number) => Math.imul(unit(x) | 0, 0x9e3779b1) + Math.imul(unit(y) | 0, 0x85ebca77)

function sameLine(a: Cut, b: Cut): boolean {
  const meets = (ax: number, ay: number, bx: number, by: number) => unit(ax) === unit(bx) && unit(ay) === unit(by)
  if (meets(a.ax, a.ay, b.ax, b.ay) && meets(a.bx, a.by, b.bx, b.by)) return true
  return meets(a.ax, a.ay, b.bx, b.by) && meets(a.bx, a.by, b.ax, b.ay)
}

/** Whether `one` is at no point of the line that both run along higher than `other`. */
function noHigher(one: Cut, other: Cut): boolean {
  const same = Math.abs(one.ax - other.ax) < 2e-5 && Math.abs(one.ay - other.ay) < 2e-5
  const [a, b] = same ? [other.az, other.bz] : [other.bz, other.az]
  return one.az <= a + 1e-6 && one.bz <= b + 1e-6
}
