import type { Word } from '../../machine/program.ts'
import { ArcWords } from './arcWords.ts'
import { type Change, isSame, placed, SAME, turnsOver } from './change.ts'
import { AXES, ROUNDING, same } from './endWords.ts'
import { LineWriter } from './lineWriter.ts'
import { writeCode } from './numbers.ts'
import { type Edit, mustRunInOrder, Refusal, type Source, written } from './source.ts'
import { type LineRead, motionWordOf, NOWHERE, scaleOf, type Triple, walk, wordOf } from './walk.ts'

/** How the lines of a source are to be told anew. What is left out stays as it is. */
export interface Wanted {
  readonly change?: Change
  readonly units?: 'mm' | 'inch'
  readonly absolute?: boolean
}

/** The same where an arc begins: a long arc over a short chord makes much of it. */
const ARC_BEGINS = 1e-5

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

class Reteller extends ArcWords {
  private readonly edits: Edit[] = []
  private before: Triple = NOWHERE
  private motion = -1

  constructor(
    source: Source,
    private readonly wanted: Wanted,
  ) {
    super(source)
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
}

function leadsToArc(lines: readonly LineRead[], n: number): boolean {
  for (let next = n + 1; next < lines.length; next++) if (lines[next].kind !== 'none') return lines[next].kind === 'arc'
  return false
}
