import { rampThereAndBack } from './cuts.ts'
import type { Path } from './path.ts'
import { roundedRectangle } from './path.ts'
import { Writer } from './writer.ts'

/** Steepest way into wood, degrees: under the 3 that bits which do not cut at their centre take. */
export const RAMP = 2.5

/** Comments that say what is made, how the blank lies and what is in the spindle; then `start`, and up. */
export function begin(
  units: 'mm' | 'inch',
  comments: readonly string[],
  start: readonly string[],
  high: number,
): Writer {
  const writer = new Writer(units)
  writer.say(...comments.map(comment => `(${comment})`), '', ...start)
  writer.rapid({ z: high })
  return writer
}

export function end(writer: Writer, high: number): string {
  writer.heading('up and off')
  writer.rapid({ z: high })
  writer.say('M5', 'M30')
  return writer.text
}

interface Levelling {
  readonly width: number
  readonly depth: number
  readonly depths: readonly number[]
  /** Of the bit's centre inside the edge, and of its turning points outside. */
  readonly edge: number
  readonly past: number
  readonly rows: number
  readonly feed: number
  readonly down: number
  readonly high: number
}

/** Passes over a whole face: once round the edge, so that none of it breaks out, then to and fro past both sides. */
export function levelOff(writer: Writer, work: Levelling): void {
  const { width, depth, depths, edge, past, rows, feed } = work
  for (const [i, z] of depths.entries()) {
    writer.heading(`pass ${i + 1} of ${depths.length}: once round the edge, Z${writer.number(z)}`)
    writer.rapid({ x: -past, y: edge })
    writer.line({ z, feed: work.down })
    writer.line({ x: width - edge, feed })
    writer.line({ y: depth - edge })
    writer.line({ x: edge })
    writer.line({ y: -past })
    writer.heading(`pass ${i + 1} of ${depths.length}: to and fro`)
    writer.line({ x: -past })
    for (let row = 0; row < rows; row++) {
      writer.line({ y: edge + ((depth - 2 * edge) * row) / (rows - 1) })
      writer.line({ x: row % 2 === 0 ? width + past : -past })
    }
    writer.rapid({ z: work.high })
  }
}

/** A rounded rectangle, as the cavity's rim. */
export interface Rim {
  readonly left: number
  readonly near: number
  readonly right: number
  readonly far: number
  readonly radius: number
}

/** The path of a bit's centre `by` mm inside a rim, anticlockwise, its corners no sharper than `least`. */
export function insideRim({ left, near, right, far, radius }: Rim, by: number, least: number): Path {
  return roundedRectangle(left + by, near + by, right - by, far - by, Math.max(radius - by, least))
}

interface Floor {
  readonly rim: Rim
  readonly bitRadius: number
  /** Where the bit ramps in, there and back, on the line through the middle. */
  readonly entry: Path
  readonly leastCorner: number
  readonly feed: number
  readonly ramp: number
}

/** One level of a cavity: down a ramp, along the middle, then rings outwards, each `inset` mm short of the wall. */
export function clearLevel(writer: Writer, floor: Floor, z: number, insets: readonly number[]): void {
  const { rim, bitRadius, entry, feed } = floor
  const half = (rim.far - rim.near) / 2 - bitRadius
  rampThereAndBack(writer, entry, z, RAMP, floor.ramp)
  writer.line({ x: rim.left + bitRadius + half, feed })
  writer.line({ x: rim.right - bitRadius - half })
  writer.line({ x: rim.left + bitRadius + half })
  for (const inset of insets) {
    const ring = insideRim(rim, bitRadius + inset, floor.leastCorner)
    writer.line(ring.start)
    writer.follow(ring)
  }
}
