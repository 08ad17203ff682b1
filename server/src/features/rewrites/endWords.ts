import type { Word } from '../../machine/program.ts'
import { type Change, placed } from './change.ts'
import type { LineWriter } from './lineWriter.ts'
import { numberIn, type Style, styleOf, writeWord } from './numbers.ts'
import { Refusal, type Source, written } from './source.ts'
import { type LineRead, NOWHERE, PLANE_AXES, scaleOf, type Triple, wordOf } from './walk.ts'

/** How far an end point may be off by rounding, mm on each axis: together less than the 0.001 mm that is promised. */
export const ROUNDING = 0.0005
export const AXES = 'XYZ'

/** Where the bit is by the new text, and the words of end points that lead it on. */
export class EndWords {
  protected readonly style: Style
  /** Program coordinates, mm. */
  protected position: Triple = NOWHERE
  protected absolute = true
  protected units: 'mm' | 'inch' = 'mm'
  protected writer!: LineWriter
  /** How far off the end of the line in hand may be, mm on each axis. */
  protected coarsest = ROUNDING

  constructor(protected readonly source: Source) {
    this.style = styleOf(source)
  }

  protected get fine(): number {
    return ROUNDING / scaleOf(this.units)
  }

  /** The words of the end point; returns where they lead. */
  protected ends(read: LineRead, change: Change, tolerance: number): Triple {
    const { words, from, to, units, plane } = read
    // A full circle ends where it begins: whatever rounding has made of that.
    const circle = read.kind === 'arc' && PLANE_AXES[plane].every(axis => from[axis] === to[axis])
    const target = placed(change, to)
    const after: [number, number, number] = [...this.position]
    const scale = scaleOf(this.units)
    const named = [0, 1, 2].map(axis => wordOf(words, AXES[axis]))
    const told = [false, false, false]
    for (let axis = 0; axis < 3; axis++) {
      const word = named[axis]
      if (!word) continue
      // Two words that change places keep their order on the line.
      const into = named[change.axes[axis]] ? axis : change.axes[axis]
      const source = named[change.axes[axis]] ? change.axes.indexOf(axis) : axis
      told[into] = true
      let place = target[into] - (this.absolute ? 0 : this.position[into])
      if (Number.isNaN(place)) {
        // Only distances can be given from a place that nobody knows.
        const own = named[source] ?? word
        if (this.absolute !== read.absolute) throw unknownPlace(read.line)
        place = own.value * scaleOf(units) * change.scale[source] + (read.absolute ? change.shift[into] : 0)
      }
      const value = this.put(word, AXES[into], place / scale, tolerance / scale) * scale
      after[into] = this.absolute ? value : this.position[into] + value
    }
    for (let axis = 0; axis < 3; axis++) {
      const wanted = target[axis]
      if (
        told[axis] ||
        (circle && PLANE_AXES[plane].includes(axis)) ||
        Number.isNaN(wanted) ||
        Math.abs(wanted - after[axis]) <= tolerance
      )
        continue
      // What stays unknown in the old reading (`from`) has no word to be added.
      if (Number.isNaN(after[axis]) && !this.absolute) throw unknownPlace(read.line)
      if (Number.isNaN(after[axis]) && same(from, to)) continue
      const value = (wanted - (this.absolute ? 0 : this.position[axis])) / scale
      const text = writeWord(this.style, AXES[axis], value, tolerance / scale)
      this.writer.add(AXES[axis], text)
      after[axis] = numberIn(text) * scale + (this.absolute ? 0 : this.position[axis])
    }
    const start = this.position
    this.position = after
    return start
  }

  /** Puts a number into a word unless it is there already; returns the number that is written then. */
  protected put(word: Word, letter: string, value: number, tolerance: number): number {
    const old = written(this.source.program, word)
    if (letter === word.letter && Math.abs(word.value - value) <= 1e-9 * Math.max(1, Math.abs(value))) return word.value
    const text = writeWord(this.style, letter, value, tolerance, old)
    this.writer.replace(word, text)
    return numberIn(text)
  }
}

/** No farther apart than rounding makes them. */
export function same(a: Triple, b: Triple): boolean {
  return a.every(
    (value, axis) => (Number.isNaN(value) && Number.isNaN(b[axis])) || Math.abs(value - b[axis]) <= 2 * ROUNDING,
  )
}

function unknownPlace(line: number): Refusal {
  return new Refusal(
    `Where the bit stands before line ${line + 1} is not known, so that its move cannot be told the other way.`,
  )
}
