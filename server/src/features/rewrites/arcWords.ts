import { arcAbout, centreOfRadius } from '../../machine/arcs.ts'
import type { Arc } from '../../machine/motions.ts'
import { betweenEnds, differ, offBy, type Point, radiiLimit, unsure } from './arcShape.ts'
import { type Change, isSame, keepsCircles, placed, placedInPlane, turnsOver } from './change.ts'
import { EndWords, ROUNDING } from './endWords.ts'
import { numberIn, writeWord } from './numbers.ts'
import { Refusal } from './source.ts'
import { type LineRead, PLANE_AXES, scaleOf, type Triple, wordOf } from './walk.ts'

/** How far an arc may be off anywhere on its way, mm; numbers get more decimals until it is met. */
const ARC_ROUNDING = 0.0009
const FINER = [ROUNDING, 1e-4, 1e-5, 1e-6]
const CENTRES = 'IJK'

/** Arcs told anew: their ends, and the centre or radius that goes with them. */
export class ArcWords extends EndWords {
  protected arc(read: LineRead, change: Change): void {
    const { arc, centre, from, to, line, plane } = read
    if (!arc || !centre) return
    if (!keepsCircles(change, plane)) {
      throw new Refusal(
        `Line ${line + 1} is an arc upright in G18 or G19, which would not stay an arc in a plane of its own.`,
      )
    }
    const start = this.position
    const [a, b] = PLANE_AXES[plane]
    const begin = placed(change, from)
    if (![a, b].every(axis => Math.abs(begin[axis] - start[axis]) <= 2 * ROUNDING)) {
      throw new Refusal(
        isSame(change)
          ? `Line ${line + 1}, the first after the lines chosen, is an arc that begins where they end: choose it too, or end with a straight move.`
          : `Line ${line + 1} is an arc that begins where the lines chosen have not moved the bit yet: begin with the move that leads to it.`,
      )
    }
    const end = placed(change, to)
    const ends = [
      [begin[a], begin[b]],
      [end[a], end[b]],
    ] as const
    const right = placedInPlane(change, plane, centre)
    const over = turnsOver(change, plane)
    const ideal = arcAbout(plane, ...ends, right, arc.sweep > 0 !== over)
    const limit = radiiLimit(this.units)
    const middle = betweenEnds(right, ends, limit)
    const allowed = ARC_ROUNDING + unsure(...ends, right, limit)
    const mark = this.writer.mark()
    // Of an arc given by its radius that turns about half a circle, rounding moves the centre far: it gets a centre.
    for (const byCentre of wordOf(read.words, 'R') ? [false, true] : [true]) {
      for (const tolerance of FINER) {
        if (tolerance > this.coarsest) continue
        this.writer.reset(mark)
        this.position = start
        this.ends(read, change, tolerance)
        const made = byCentre
          ? this.centre(read, change, middle, start, tolerance)
          : this.radius(read, change, start, tolerance)
        if (made && offBy(made, ideal) <= allowed) return
      }
    }
    throw new Refusal(`Line ${line + 1} is an arc that cannot be written near enough to where it belongs.`)
  }

  /** The radius word; the arc that the machine makes of it, or undefined where it makes none. */
  private radius(
    { words, plane, arc, units }: LineRead,
    change: Change,
    start: Triple,
    tolerance: number,
  ): Arc | undefined {
    const word = wordOf(words, 'R')
    if (!word || !arc) return undefined
    const [a, b] = PLANE_AXES[plane]
    const scale = scaleOf(this.units)
    const counterClockwise = arc.sweep > 0 !== turnsOver(change, plane)
    const size = (word.value * scaleOf(units) * Math.abs(change.scale[a])) / scale
    const radius = this.put(word, 'R', size, tolerance / scale) * scale
    const from: Point = [start[a], start[b]]
    const to: Point = [this.position[a], this.position[b]]
    if (from[0] === to[0] && from[1] === to[1]) return undefined
    const at = centreOfRadius(from, to, radius, counterClockwise, radiiLimit(this.units))
    return at && arcAbout(plane, from, to, at, counterClockwise)
  }

  /** The words of the centre, in the place of a radius where there is one; the arc, or undefined as above. */
  private centre(
    { words, plane, arc, arcAbsolute }: LineRead,
    change: Change,
    middle: Point,
    start: Triple,
    tolerance: number,
  ): Arc | undefined {
    const [a, b] = PLANE_AXES[plane]
    const scale = scaleOf(this.units)
    const made: [number, number] = [start[a], start[b]]
    const named = [a, b].map(axis => wordOf(words, CENTRES[axis]))
    const radius = wordOf(words, 'R')
    for (let n = 0; n < 2; n++) {
      const axis = n === 0 ? a : b
      const base = arcAbsolute ? 0 : start[axis]
      const value = (middle[n] - base) / scale
      // The word of this axis; or, turned by a quarter, that of the other where this one has none.
      const word = named[0] && named[1] ? named[n] : named[change.axes[axis] === axis ? n : 1 - n]
      if (word) made[n] = this.put(word, CENTRES[axis], value, tolerance / scale) * scale + base
      else if (radius || arcAbsolute || Math.abs(value * scale) > tolerance / 10) {
        const text = writeWord(this.style, CENTRES[axis], value, tolerance / scale)
        if (radius && n === 0) this.writer.replace(radius, text)
        else this.writer.add(radius ? 'R' : CENTRES[axis], text)
        made[n] = numberIn(text) * scale + base
      }
    }
    const from: Point = [start[a], start[b]]
    const to: Point = [this.position[a], this.position[b]]
    if (!arc || differ(from, to, made) > radiiLimit(this.units)) return undefined
    return arcAbout(plane, from, to, made, arc.sweep > 0 !== turnsOver(change, plane))
  }
}
