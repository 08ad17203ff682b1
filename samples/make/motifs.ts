import type { Point } from './path.ts'
import type { Outline } from './shape.ts'
import { difference, softened, union } from './shape.ts'

/** Close enough that a chord of the flattest curve here leaves it by a ten-thousandth. */
const SPACING = 0.25

/**
 * A fern frond about the origin, as it is seen in the finished dish: a bent stem, leaflets of unequal length on both
 * sides and one at the tip. It has no axis of symmetry, so a plug that was not turned over cannot fit.
 *
 * @param inside radius of the sharpest inside corner, mm
 * @param outside radius of the sharpest outside corner, mm
 */
export function fern(inside: number, outside: number): Outline {
  const stem = { centre: { x: 14, y: -191 }, radius: 190, from: 108, to: 81 }
  const at = (share: number, side: number): Point => {
    const angle = ((stem.from + (stem.to - stem.from) * share) * Math.PI) / 180
    const r = stem.radius + side
    return { x: stem.centre.x + r * Math.cos(angle), y: stem.centre.y + r * Math.sin(angle) }
  }
  const heading = (share: number): number => stem.from + (stem.to - stem.from) * share - 90
  const shares = Array.from({ length: 320 }, (_, i) => i / 319)
  const halfWidth = (share: number): number => 4.3 - 1.1 * share
  const stalk = [...shares.map(s => at(s, -halfWidth(s))), ...shares.reverse().map(s => at(s, halfWidth(s)))]
  const leaflets = [
    { share: 0.16, angle: -62, length: 21 },
    { share: 0.27, angle: 58, length: 29 },
    { share: 0.4, angle: -60, length: 33 },
    { share: 0.52, angle: 56, length: 33 },
    { share: 0.64, angle: -58, length: 28 },
    { share: 0.77, angle: 52, length: 26 },
    { share: 0.87, angle: -54, length: 22 },
    { share: 0.96, angle: 6, length: 25 },
  ]
  const leaves = leaflets.map(l => leaf(at(l.share, 0), heading(l.share) + l.angle, l.length, Math.sign(l.angle)))
  return softened(union([stalk, ...leaves]), inside, outside)
}

/** Two arcs from base to tip; the side towards the tip of the frond is the flatter one. */
function leaf(base: Point, direction: number, length: number, hand: number): Outline {
  const angle = (direction * Math.PI) / 180
  const place = (along: number, across: number): Point => ({
    x: base.x + along * Math.cos(angle) - across * Math.sin(angle),
    y: base.y + along * Math.sin(angle) + across * Math.cos(angle),
  })
  const right = bulge(length, 4.7 + 0.5 * hand)
  const left = bulge(length, 4.7 - 0.5 * hand).reverse()
  return [...right.map(p => place(p.x, -p.y)), ...left.slice(1, -1).map(p => place(p.x, p.y))]
}

/** Points of the arc over a chord along X from 0 to `length` that rises by `rise`. */
function bulge(length: number, rise: number): Point[] {
  const radius = (length * length) / (8 * rise) + rise / 2
  const half = Math.asin(length / 2 / radius)
  const count = Math.ceil((2 * half * radius) / SPACING)
  return Array.from({ length: count + 1 }, (_, i) => {
    const a = -half + (2 * half * i) / count
    return { x: length / 2 + radius * Math.sin(a), y: rise - radius + radius * Math.cos(a) }
  })
}

/** A crescent about the origin with its horns to the right: a disc less another, horns rounded. */
export function crescent(radius: number, bite: number, setOver: number, outside: number): Outline {
  const moon = difference(disc({ x: 0, y: 0 }, radius), disc({ x: setOver, y: 0 }, bite))
  return softened(moon, outside, outside)
}

function disc(centre: Point, radius: number): Outline {
  const count = Math.ceil((2 * Math.PI * radius) / SPACING)
  return Array.from({ length: count }, (_, i) => {
    const a = (2 * Math.PI * i) / count
    return { x: centre.x + radius * Math.cos(a), y: centre.y + radius * Math.sin(a) }
  })
}
