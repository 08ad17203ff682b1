import type { Point, Step } from '../../../samples/make/path.ts'
import { type Target, Writer } from '../../../samples/make/writer.ts'

type Spin = 0 | 90 | 180 | 270

/** How the blank lies and where it is zeroed: its size before it is spun, and the zero from its corner after that. */
export interface Lying {
  readonly size: readonly [number, number]
  readonly spin: Spin
  readonly zero: { readonly x: number; readonly y: number; readonly z: number }
}

/**
 * Takes places of the blank as it lies before it is spun, heights over its face, and writes them as it is spun, from a
 * zero that lies elsewhere.
 */
export class ShiftedWriter extends Writer {
  constructor(
    units: 'mm' | 'inch',
    private readonly lying: Lying,
  ) {
    super(units)
  }

  override get place(): Point & { readonly z: number } {
    const { x, y, z } = super.place
    const { zero, spin, size } = this.lying
    return { ...spun({ x: x + zero.x, y: y + zero.y }, turnedBack(spin), sizeAfter(size, spin)), z: z + zero.z }
  }

  override rapid(to: Target): void {
    super.rapid(this.shifted(to))
  }

  override line(to: Target): void {
    super.line(this.shifted(to))
  }

  override arc(to: Point, arc: NonNullable<Step['arc']>, more: { z?: number; feed?: number } = {}): void {
    const at = (p: Point): Point => this.placed(p)
    const z = more.z === undefined ? {} : { z: more.z - this.lying.zero.z }
    super.arc(at(to), { ...arc, centre: at(arc.centre) }, { ...more, ...z })
  }

  private placed(p: Point): Point {
    const { zero, spin, size } = this.lying
    const { x, y } = spun(p, spin, size)
    return { x: x - zero.x, y: y - zero.y }
  }

  private shifted(to: Target): Target {
    const { x = this.place.x, y = this.place.y } = to
    const across = to.x === undefined && to.y === undefined ? {} : this.placed({ x, y })
    return {
      ...across,
      ...(to.z === undefined ? {} : { z: to.z - this.lying.zero.z }),
      ...(to.feed === undefined ? {} : { feed: to.feed }),
    }
  }
}

/** Contract, section 2: counter-clockwise as seen, and still in the near-left corner. */
function spun({ x, y }: Point, spin: Spin, [width, depth]: readonly [number, number]): Point {
  if (spin === 90) return { x: depth - y, y: x }
  if (spin === 180) return { x: width - x, y: depth - y }
  if (spin === 270) return { x: y, y: width - x }
  return { x, y }
}

const turnedBack = (spin: Spin): Spin => ((360 - spin) % 360) as Spin

export const sizeAfter = ([width, depth]: readonly [number, number], spin: number): readonly [number, number] =>
  spin % 180 === 0 ? [width, depth] : [depth, width]
