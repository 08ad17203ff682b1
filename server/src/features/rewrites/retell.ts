import { arcAbout, centreOfRadius } from '../../machine/arcs.ts'
import type { Arc } from '../../machine/motions.ts'
import type { Word } from '../../machine/program.ts'
import { betweenEnds, differ, offBy, type Point, radiiLimit, unsure } from './arcShape.ts'
import { type Change, isSame, keepsCircles, placed, placedInPlane, SAME, turnsOver } from './change.ts'
import { LineWriter } from './lineWriter.ts'
import { numberIn, type Style, styleOf, writeCode, writeWord } from './numbers.ts'
import { type Edit, mustRunInOrder, Refusal, type Source, written } from './source.ts'
import { type LineRead, motionWordOf, NOWHERE, PLANE_AXES, scaleOf, type Triple, walk, wordOf } from './walk.ts'

/** How the lines of a source are to be told anew. What is left out stays as it is. */
export interface Wanted {
  readonly change?: Change
  readonly units?: 'mm' | 'inch'
  readonly absolute?: boolean
}

/** How far an end point may be off by rounding, mm on each axis: together less than the 0.001 mm that is promised. */
const ROUNDING = 0.0005
/** How far an arc may be off anywhere on its way, mm; numbers get more decimals until it is met. */
const ARC_ROUNDING = 0.0009
const FINER = [ROUNDING, 1e-4, 1e-5, 1e-6]
/** The same where an arc begins: a long arc over a short chord makes much of it. */
const ARC_BEGINS = 1e-5
const AXES = 'XYZ'
const CENTRES = 'IJK'

/**
 * Writes lines anew so that the same moves lead where the change takes them, in the units and distances that are wanted;
 * only words that must change are touched, and words that a line now needs are added. Lines after the last are told so
 * that they go where they went, until nothing differs any more.
 * @throws Refusal where that cannot be done
 */
export function retold(source: Source, wanted: Wanted): Edit[] {
  mustRunInOrder(source)
  return new Reteller(source, wanted).run()
}

class Reteller {
  private readonly style: Style
  private readonly edits: Edit[] = []
  /** Where the bit is by the new text, program coordinates, mm. */
  private position: Triple = NOWHERE
  private before: Triple = NOWHERE
  private motion = -1
  private absolute = true
  private units: 'mm' | 'inch' = 'mm'
  private writer!: LineWriter
  /** How far off the end of the line in hand may be, mm on each axis. */
  private coarsest = ROUNDING

  constructor(
    private readonly source: Source,
    private readonly wanted: Wanted,
  ) {
    this.style = styleOf(source)
  }

  run(): Edit[] {
    const { program, first, last } = this.source
    const lines = [...walk(this.source)]
    for (const [n, read] of lines.entries()) {
      const inside = read.line >= first && read.line <= last
      if (read.line > last && this.agrees(read)) break
      this.coarsest = leadsToArc(lines, n) ? ARC_BEGINS : ROUNDING
      this.writer = new LineWriter(program, read.line, read.words, this.style.spaced)
      this.line(read, inside ? (this.wanted.change ?? SAME) : SAME, inside)
      this.edits.push(...this.writer.edits())
    }
    return this.edits
  }

  /** From here on nothing differs from what the text says already. */
  private agrees({ from, motion, absolute, units, line, kind }: LineRead): boolean {
    if (kind === 'none' || line === 0) return false
    const there = this.position.every((at, axis) => Object.is(at, from[axis]) || Math.abs(at - from[axis]) < 1e-9)
    return there && (this.motion === motion || this.motion < 0) && this.absolute === absolute && this.units === units
  }

  private line(read: LineRead, change: Change, inside: boolean): void {
    this.modes(read, inside, change)
    if (read.inverseTime === false && this.units !== read.units) this.feed(read)
    if (read.kind === 'none') return
    this.arrive(read)
    if (read.kind === 'code') this.code(read, change)
    else {
      this.kindOfMove(read, change)
      if (read.kind === 'arc') this.arc(read, change)
      else if (read.kind === 'cycle') this.cycle(read, change)
      else this.ends(read, change, this.coarsest)
    }
    this.before = read.to
  }

  /** Where an offset has moved the program's own zero, both readings stand at the same place by it. */
  private arrive({ from, line }: LineRead): void {
    const jumped = !same(from, this.before)
    if (!jumped) return
    if (!same(this.position, this.before) && !this.before.every(Number.isNaN)) {
      throw new Refusal(
        `Before line ${line + 1} the zero of the program is moved while the bit stands elsewhere than it did: choose lines that end before it.`,
      )
    }
    this.position = from
  }

  private modes(read: LineRead, inside: boolean, change: Change): void {
    const { words, kind } = read
    const wantedAbsolute = inside ? (this.wanted.absolute ?? read.absolute) : read.absolute
    const wantedUnits = inside ? (this.wanted.units ?? read.units) : read.units
    const distance = words.find(({ letter, value }) => letter === 'G' && (value === 90 || value === 91))
    const unit = words.find(({ letter, value }) => letter === 'G' && (value === 20 || value === 21))
    if (distance) {
      this.rewriteCode(distance, wantedAbsolute ? 90 : 91)
      this.absolute = wantedAbsolute
    }
    if (unit) {
      this.rewriteCode(unit, wantedUnits === 'mm' ? 21 : 20)
      this.units = wantedUnits
    }
    for (const word of words) {
      if (word.letter === 'G' && (word.value === 41 || word.value === 42) && turnsOver(change, 'XY')) {
        this.rewriteCode(word, word.value === 41 ? 42 : 41)
      }
    }
    const counts = kind !== 'none' || words.some(({ letter }) => letter === 'F')
    if (!counts) return
    if (this.units !== wantedUnits) this.writer.addCode(wantedUnits === 'mm' ? 'G21' : 'G20')
    this.units = wantedUnits
    if (kind === 'none') return
    if (this.absolute !== wantedAbsolute) this.writer.addCode(wantedAbsolute ? 'G90' : 'G91')
    this.absolute = wantedAbsolute
  }

  private rewriteCode(word: Word, number: number): void {
    if (word.value !== number) this.writer.replace(word, writeCode(written(this.source.program, word), number))
  }

  private feed({ words, units }: LineRead): void {
    const word = wordOf(words, 'F')
    if (!word) return
    const value = (word.value * scaleOf(units)) / scaleOf(this.units)
    // A feed is known to a thousandth of itself at best.
    this.put(word, 'F', value, Math.abs(value) * 5e-4)
  }

  /** Codes that act once hold places of the machine, or say what the place of the bit is called. */
  private code(read: LineRead, change: Change): void {
    const { words, line, units, absolute, from } = read
    if (!same(this.position, placed(change, from))) {
      throw new Refusal(
        `Line ${line + 1} goes by where the bit stands, and the bit stands elsewhere now: choose its lines too.`,
      )
    }
    const axes = words.filter(({ letter }) => AXES.includes(letter))
    const byMachine = words.some(({ letter, value }) => letter === 'G' && value === 53)
    if (!byMachine && axes.some(({ value }) => value !== 0 || absolute) && !isSame(change)) {
      throw new Refusal(
        `Line ${line + 1} names places with a code of its own (${written(this.source.program, words[0])} …), which cannot be moved along: choose lines without it.`,
      )
    }
    for (const word of axes) this.put(word, word.letter, (word.value * scaleOf(units)) / scaleOf(this.units), this.fine)
    if (this.absolute !== absolute && axes.length > 0 && !byMachine) {
      throw new Refusal(`Line ${line + 1} holds a code that means something else in the other distances.`)
    }
    const own = motionWordOf(words)
    if (own) this.motion = Math.round(own.value * 10)
    this.position = read.to
  }

  private get fine(): number {
    return ROUNDING / scaleOf(this.units)
  }

  /** The code of the motion, where it is another than the one in force by the new text. */
  private kindOfMove({ words, motion, plane, line, compensated }: LineRead, change: Change): void {
    const over = turnsOver(change, plane)
    if (compensated && change.scale.some(each => Math.abs(each) !== 1)) {
      throw new Refusal(`Line ${line + 1} runs beside its path by the radius of the bit, which does not scale with it.`)
    }
    const wanted = over && (motion === 20 || motion === 30) ? 50 - motion : motion
    const own = motionWordOf(words)
    if (own) {
      if (wanted !== motion) this.rewriteCode(own, wanted / 10)
    } else if (this.motion >= 0 && wanted !== this.motion) this.writer.addCode(`G${wanted / 10}`)
    this.motion = wanted
  }

  /** The words of the end point; returns where they lead. */
  private ends(read: LineRead, change: Change, tolerance: number): Triple {
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

  private arc(read: LineRead, change: Change): void {
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

  private cycle(read: LineRead, change: Change): void {
    const { words, plane, line, from, absolute, units } = read
    if (!isSame(change) && plane !== 'XY') {
      throw new Refusal(`Line ${line + 1} is a drilling cycle sideways, in G18 or G19; it is not rewritten.`)
    }
    if (this.absolute !== absolute) {
      throw new Refusal(
        `Line ${line + 1} is a drilling cycle, whose R and Z mean something else in the other distances: choose lines without it.`,
      )
    }
    const scale = scaleOf(this.units)
    const ratio = scaleOf(units) / scale
    for (const word of words) {
      const value = word.value * ratio
      if (word.letter === 'Q') this.put(word, 'Q', value * change.scale[2], this.fine)
      else if (word.letter === 'R' || word.letter === 'Z') {
        const shift = absolute ? change.shift[2] / scale : 0
        this.put(word, word.letter, value * change.scale[2] + shift, this.fine)
      } else if ('IJK'.includes(word.letter) && !isSame(change)) {
        throw new Refusal(`Line ${line + 1} is a drilling cycle with ${word.letter}; it is not rewritten.`)
      } else if ('IJK'.includes(word.letter)) this.put(word, word.letter, value, this.fine)
    }
    if (absolute) {
      const after = placed(change, read.to)
      const level = read.words.filter(({ letter }) => letter !== 'Z')
      this.ends({ ...read, words: level, to: [read.to[0], read.to[1], Number.NaN] }, change, this.coarsest)
      this.position = [this.position[0], this.position[1], after[2]]
      return
    }
    if (!same(this.position, placed(change, from))) {
      throw new Refusal(
        `Line ${line + 1} drills at a distance from where the bit stands, and the bit stands elsewhere now.`,
      )
    }
    for (const word of words) {
      const axis = AXES.indexOf(word.letter)
      if (axis < 0 || axis > 1) continue
      this.put(word, AXES[change.axes[axis]], word.value * ratio * change.scale[axis], this.fine)
    }
    this.position = placed(change, read.to)
  }

  /** Puts a number into a word unless it is there already; returns the number that is written then. */
  private put(word: Word, letter: string, value: number, tolerance: number): number {
    const old = written(this.source.program, word)
    if (letter === word.letter && Math.abs(word.value - value) <= 1e-9 * Math.max(1, Math.abs(value))) return word.value
    const text = writeWord(this.style, letter, value, tolerance, old)
    this.writer.replace(word, text)
    return numberIn(text)
  }
}

function leadsToArc(lines: readonly LineRead[], n: number): boolean {
  for (let next = n + 1; next < lines.length; next++) if (lines[next].kind !== 'none') return lines[next].kind === 'arc'
  return false
}

function same(a: Triple, b: Triple): boolean {
  return a.every(
    (value, axis) => (Number.isNaN(value) && Number.isNaN(b[axis])) || Math.abs(value - b[axis]) <= 2 * ROUNDING,
  )
}

function unknownPlace(line: number): Refusal {
  return new Refusal(
    `Where the bit stands before line ${line + 1} is not known, so that its move cannot be told the other way.`,
  )
}
