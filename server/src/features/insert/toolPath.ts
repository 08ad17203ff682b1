/** A point of the program's own frame, mm. */
export interface Point {
  readonly x: number
  readonly y: number
}

/** One line of an operation: where to go, in mm of the program's own frame; axes that stay are left out. */
export type Step =
  | { readonly kind: 'heading'; readonly text: string }
  | { readonly kind: 'rapid'; readonly x?: number; readonly y?: number; readonly z?: number }
  | { readonly kind: 'line'; readonly x?: number; readonly y?: number; readonly z?: number; readonly feed: number }
  | {
      readonly kind: 'arc'
      readonly x: number
      readonly y: number
      readonly z?: number
      readonly centre: Point
      readonly clockwise: boolean
      readonly feed: number
    }

/** Whether two places are the same to any machine, mm. */
const SAME = 1e-6

/** The steps of an operation as they come about; knows where the bit is, so that nothing is said that changes nothing. */
export class ToolPath {
  readonly steps: Step[] = []
  x = Number.NaN
  y = Number.NaN
  z = Number.NaN

  heading(text: string): void {
    this.steps.push({ kind: 'heading', text })
  }

  rapid(to: { x?: number; y?: number; z?: number }): void {
    const moved = this.moved(to)
    if (moved) this.steps.push({ kind: 'rapid', ...moved })
  }

  line(to: { x?: number; y?: number; z?: number }, feed: number): void {
    const moved = this.moved(to)
    if (moved) this.steps.push({ kind: 'line', ...moved, feed })
  }

  /** An arc, or a full circle where it ends where it began; with another `z` a helix. */
  arc(to: Point, centre: Point, clockwise: boolean, feed: number, z?: number): void {
    const rises = z !== undefined && Math.abs(z - this.z) > SAME
    this.steps.push({ kind: 'arc', x: to.x, y: to.y, ...(rises ? { z } : {}), centre, clockwise, feed })
    this.x = to.x
    this.y = to.y
    if (z !== undefined) this.z = z
  }

  /** The axes that change; the bit is put there. */
  private moved(to: { x?: number; y?: number; z?: number }): { x?: number; y?: number; z?: number } | undefined {
    const moved: { x?: number; y?: number; z?: number } = {}
    for (const axis of ['x', 'y', 'z'] as const) {
      const value = to[axis]
      if (value === undefined || Math.abs(value - this[axis]) <= SAME) continue
      moved[axis] = value
      this[axis] = value
    }
    return Object.keys(moved).length > 0 ? moved : undefined
  }
}
