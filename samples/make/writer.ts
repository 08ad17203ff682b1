import type { Path, Point, Step } from './path.ts'
import { distance } from './path.ts'

const INCH = 25.4

export interface Target {
  readonly x?: number
  readonly y?: number
  readonly z?: number
  /** mm/min along the path. */
  readonly feed?: number
}

/**
 * Writes a program as a person keeps it: comments head the operations, words that are in force already are not said
 * again, numbers carry no needless zeros. Takes millimetres and writes the program's own units.
 */
export class Writer {
  private readonly lines: string[] = []
  private readonly unit: number
  private readonly decimals: number
  private motion = ''
  private feedWord = ''
  private readonly at: { x: number; y: number; z: number } = { x: Number.NaN, y: Number.NaN, z: Number.NaN }

  constructor(units: 'mm' | 'inch') {
    this.unit = units === 'mm' ? 1 : INCH
    this.decimals = units === 'mm' ? 3 : 4
  }

  get text(): string {
    return `${this.lines.join('\n')}\n`
  }

  get place(): Point & { readonly z: number } {
    const { x, y, z } = this.at
    return { x: x * this.unit, y: y * this.unit, z: z * this.unit }
  }

  /** A length as it stands in a word. */
  number(mm: number): string {
    return String(this.rounded(mm))
  }

  /** Words or comments as they are. */
  say(...lines: string[]): void {
    this.lines.push(...lines)
  }

  /** An empty line and the heading of an operation; the motion word is said anew below it. */
  heading(title: string): void {
    this.lines.push('', `(${title})`)
    this.motion = ''
  }

  rapid(to: Target): void {
    this.move('G0', to)
  }

  line(to: Target): void {
    this.move('G1', to)
  }

  /** An arc or helix to a point; a full turn where that is where the bit stands. */
  arc(to: Point, arc: NonNullable<Step['arc']>, more: { z?: number; feed?: number } = {}): void {
    const start = { x: this.at.x, y: this.at.y }
    const end = { x: this.rounded(to.x), y: this.rounded(to.y) }
    const centre = this.centreFor(start, end, { x: arc.centre.x / this.unit, y: arc.centre.y / this.unit })
    const words = [
      this.motionWord(arc.anticlockwise ? 'G3' : 'G2'),
      start.x !== end.x || start.y === end.y ? this.word('X', end.x) : '',
      start.y !== end.y ? this.word('Y', end.y) : '',
      this.axis('Z', 'z', more.z),
      centre.i !== 0 ? this.word('I', centre.i) : '',
      centre.j !== 0 ? this.word('J', centre.j) : '',
      this.feed(more.feed),
    ]
    this.at.x = end.x
    this.at.y = end.y
    this.lines.push(words.filter(Boolean).join(' '))
  }

  step(step: Step, more: { z?: number; feed?: number } = {}): void {
    if (step.arc) this.arc(step.to, step.arc, more)
    else this.line({ ...step.to, ...more })
  }

  follow(path: Path, feed?: number): void {
    for (const step of path.steps) this.step(step, { feed })
  }

  private move(motion: string, to: Target): void {
    const axes = [this.axis('X', 'x', to.x), this.axis('Y', 'y', to.y), this.axis('Z', 'z', to.z)].filter(Boolean)
    if (axes.length === 0) return
    const words = [this.motionWord(motion), ...axes, this.feed(to.feed)]
    this.lines.push(words.filter(Boolean).join(' '))
  }

  private motionWord(motion: string): string {
    if (motion === this.motion) return ''
    this.motion = motion
    return motion
  }

  private axis(letter: string, axis: 'x' | 'y' | 'z', value: number | undefined): string {
    if (value === undefined) return ''
    const rounded = this.rounded(value)
    if (rounded === this.at[axis]) return ''
    this.at[axis] = rounded
    return this.word(letter, rounded)
  }

  private feed(value: number | undefined): string {
    if (value === undefined) return ''
    const word = `F${Math.round((value / this.unit) * 10) / 10}`
    if (word === this.feedWord) return ''
    this.feedWord = word
    return word
  }

  private word(letter: string, value: number): string {
    return `${letter}${Number(value.toFixed(this.decimals))}`
  }

  private rounded(mm: number): number {
    return Number((mm / this.unit).toFixed(this.decimals)) + 0
  }

  /**
   * The centre as offsets of as many decimals as the rest, so that the radii at both ends agree as nearly as those
   * decimals allow: the standard refuses arcs whose radii differ by more than 0.002 mm or 0.0002 in (RS274/NGC 3.5.3.2).
   */
  private centreFor(start: Point, end: Point, about: Point): { i: number; j: number } {
    const ulp = 10 ** -this.decimals
    const round = (value: number): number => Number(value.toFixed(this.decimals)) + 0
    const chord = distance(start, end)
    let exact = { x: about.x - start.x, y: about.y - start.y }
    if (chord > 0) {
      // On the line through the middle of the chord, square to it.
      const n = { x: -(end.y - start.y) / chord, y: (end.x - start.x) / chord }
      const mid = { x: (start.x + end.x) / 2, y: (start.y + end.y) / 2 }
      const h = (about.x - mid.x) * n.x + (about.y - mid.y) * n.y
      exact = { x: mid.x + h * n.x - start.x, y: mid.y + h * n.y - start.y }
    }
    let best = { i: 0, j: 0, off: Number.POSITIVE_INFINITY }
    for (const a of [-1, 0, 1]) {
      for (const b of [-1, 0, 1]) {
        const i = round(exact.x + a * ulp)
        const j = round(exact.y + b * ulp)
        const differ = Math.abs(Math.hypot(i, j) - Math.hypot(start.x + i - end.x, start.y + j - end.y))
        const off = differ + 0.5 * Math.hypot(i - exact.x, j - exact.y)
        if (off < best.off) best = { i, j, off }
      }
    }
    return best
  }
}
