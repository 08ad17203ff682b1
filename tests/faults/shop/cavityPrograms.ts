import { levels } from '../../../samples/make/cuts.ts'
import { clearLevel, end } from '../../../samples/make/operations.ts'
import type { Path } from '../../../samples/make/path.ts'
import type { Writer } from '../../../samples/make/writer.ts'
import { cavityRadius, DEPTHS, type Design, ROUGHING_RADIUS } from './design.ts'
import { HIGH, rimOf } from './places.ts'
import { changeTo, start } from './start.ts'

/** Height of the cavity's zero over the face. */
export const cavityZero = ({ zero, thick }: Design): number => (zero.cavityOnBed ? DEPTHS.level - thick : zero.offset)

/** Insets from one to another, no farther apart than `step`. */
function rings(from: number, to: number, step: number): number[] {
  const count = Math.ceil((from - to) / step)
  return Array.from({ length: count }, (_, i) => from + ((to - from) * (i + 1)) / count)
}

/** The way into the cavity, and how it is cleared, for a bit. */
function cavityFloor(design: Design, bitRadius: number, feed: number) {
  const rim = rimOf(design)
  const middle = { x: design.width / 2, y: design.depth / 2 }
  const entry: Path = {
    start: { x: middle.x - 15, y: middle.y },
    steps: [{ to: { x: middle.x + 15, y: middle.y } }],
  }
  const half = (rim.far - rim.near) / 2 - bitRadius
  return { floor: { rim, bitRadius, entry, leastCorner: 2, feed, ramp: 900 }, half }
}

/** What the roughing bit leaves standing at the wall: so much that its corner stays out of the fillet. */
const LEFT_AT_WALL = 2

function roughOut(writer: Writer, design: Design): void {
  const { floor, half } = cavityFloor(design, ROUGHING_RADIUS, 1600)
  writer.heading('rough the cavity')
  writer.rapid(floor.entry.start)
  writer.rapid({ z: 1 })
  writer.line({ z: 0, feed: 300 })
  const depths = levels(0, DEPTHS.floor - design.thick + 0.3, 2)
  for (const [i, z] of depths.entries()) {
    writer.heading(`cavity, level ${i + 1} of ${depths.length}`)
    clearLevel(writer, floor, z, rings(half, LEFT_AT_WALL, ROUGHING_RADIUS * 0.8))
    if (i < depths.length - 1) writer.line(floor.entry.start)
  }
}

export function rough(design: Design): string {
  const writer = start(design, 'cavity, roughed out', 'roughing', 'cavity', cavityZero(design))
  roughOut(writer, design)
  return end(writer, HIGH)
}

export function cavity(design: Design): string {
  const changes = design.rough === 'change'
  const writer = start(design, 'cavity', changes ? 'roughing' : 'cavity', 'cavity', cavityZero(design))
  if (changes) {
    roughOut(writer, design)
    writer.heading('the bowl bit for the rest')
    writer.rapid({ z: HIGH })
    writer.say('M5')
    changeTo(writer, design, 'cavity')
  }
  const bitRadius = cavityRadius(design)
  const flat = { bowl: 5, flat: 6, ball: 0 }[design.cavityBit]
  const { floor, half } = cavityFloor(design, bitRadius, 1600)
  const deep = DEPTHS.floor - design.thick
  writer.heading(design.rough === 'same' ? 'rough the cavity' : 'the wall, level by level')
  writer.rapid(floor.entry.start)
  writer.rapid({ z: 1 })
  writer.line({ z: 0, feed: 300 })
  const depths = levels(0, deep + 0.3, 2)
  for (const [i, z] of depths.entries()) {
    writer.heading(`cavity, level ${i + 1} of ${depths.length}`)
    clearLevel(writer, floor, z, design.rough === 'same' ? rings(half, 0, Math.max(flat, 3)) : [0])
    if (i < depths.length - 1) writer.line(floor.entry.start)
  }
  writer.heading('finish floor and wall')
  writer.line(floor.entry.start)
  clearLevel(writer, { ...floor, feed: 1400 }, deep, rings(half, 0, flat === 0 ? 0.8 : flat))
  return end(writer, HIGH)
}
