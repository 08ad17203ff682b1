import type { Point, Step } from '../../../samples/make/path.ts'
import { type Target, Writer } from '../../../samples/make/writer.ts'

/** Takes places of the blank as it lies, heights over its face, and writes them from a zero that lies elsewhere. */
export class ShiftedWriter extends Writer {
  constructor(
    units: 'mm' | 'inch',
    private readonly zero: { readonly x: number; readonly y: number; readonly z: number },
  ) {
    super(units)
  }

  override get place(): Point & { readonly z: number } {
    const { x, y, z } = super.place
    return { x: x + this.zero.x, y: y + this.zero.y, z: z + this.zero.z }
  }

  override rapid(to: Target): void {
    super.rapid(this.shifted(to))
  }

  override line(to: Target): void {
    super.line(this.shifted(to))
  }

  override arc(to: Point, arc: NonNullable<Step['arc']>, more: { z?: number; feed?: number } = {}): void {
    const at = (p: Point): Point => ({ x: p.x - this.zero.x, y: p.y - this.zero.y })
    const z = more.z === undefined ? {} : { z: more.z - this.zero.z }
    super.arc(at(to), { ...arc, centre: at(arc.centre) }, { ...more, ...z })
  }

  private shifted(to: Target): Target {
    return {
      ...(to.x === undefined ? {} : { x: to.x - this.zero.x }),
      ...(to.y === undefined ? {} : { y: to.y - this.zero.y }),
      ...(to.z === undefined ? {} : { z: to.z - this.zero.z }),
      ...(to.feed === undefined ? {} : { feed: to.feed }),
    }
  }
}
