import { CODES, Group } from '../../machine/words.ts'
import { type Source, wordsByLine, written } from '../rewrites/source.ts'
import { Modes } from '../rewrites/walk.ts'

/** What a machine remembers before a line beside where it stands, as the words that set it are written. */
export interface StateAt {
  /** How the words of the line are meant, its own words not counted in. */
  readonly modes: Modes
  /** By modal group, without motion and what acts once; the plane and the rest of Table 4. */
  readonly codes: ReadonlyMap<number, string>
  /** G41 or G42 with its D, and the line that it stands on. */
  readonly compensation?: { readonly written: string; readonly line: number }
  readonly coolant: readonly string[]
  readonly spindle?: string
  readonly speed?: string
  /** In the feed mode that is in force. */
  readonly feed?: string
  /** T word of the bit in the spindle, and whether M6 put it there. */
  readonly tool?: string
  readonly changed: boolean
  /** T word of a bit that waits for the next M6. */
  readonly waiting?: string
  /** G4 with its P, after the spindle was last started. */
  readonly dwell?: string
  /** Words that a drilling cycle keeps, by letter, since it began. */
  readonly cycle: ReadonlyMap<string, string>
  /** Lines on which G92 called the place of the bit by a name. */
  readonly shifted: readonly number[]
}

const LEFT_OUT: readonly number[] = [
  ...[Group.once, Group.motion, Group.units, Group.distance, Group.feedMode, Group.radius],
  ...[Group.stop, Group.change, Group.spindle, Group.coolant, Group.calls],
]

/** Gathers the memory of the machine after lines, in the order in which they have been obeyed. */
export function stateAfter(source: Source, lines: readonly number[]): StateAt {
  const words = wordsByLine(source)
  const memory = new Memory(source)
  for (const line of lines) memory.obey(line, words[line] ?? [])
  return memory
}

type Words = ReturnType<typeof wordsByLine>[number]

class Memory implements StateAt {
  readonly modes: Modes
  readonly codes = new Map<number, string>()
  readonly cycle = new Map<string, string>()
  readonly shifted: number[] = []
  compensation?: { written: string; line: number }
  coolant: string[] = []
  spindle?: string
  speed?: string
  feed?: string
  tool?: string
  waiting?: string
  dwell?: string
  changed = false

  constructor(private readonly source: Source) {
    this.modes = new Modes(source.dialect)
  }

  obey(line: number, words: Words): void {
    const { inverseTime } = this.modes
    this.modes.obey(words)
    // 3.5.19: a feed of the one kind is none of the other.
    if (this.modes.inverseTime !== inverseTime) this.feed = undefined
    const has = (letter: string, test: (value: number) => boolean) =>
      words.some(word => word.letter === letter && test(word.value))
    const begins = has('G', value => value >= 81 && value <= 89)
    if (begins) this.cycle.clear()
    const keeps = begins || !has('G', value => value === 4 || value === 10 || value === 43.1)
    for (const word of words) {
      const { letter, value } = word
      const own = written(this.source.program, word)
      if (letter === 'F') this.feed = own
      else if (letter === 'S') this.speed = own
      else if (letter === 'T') this.waiting = own
      else if ('ZRQP'.includes(letter) && keeps) this.cycle.set(letter, own)
      else if (letter === 'G' || letter === 'M') this.code(letter, value, own, words, line)
    }
    // T chooses, M6 puts it in, wherever on the line they stand (Table 8); without any M6 it is in the spindle at once.
    if (has('M', value => value === 6)) {
      this.tool = this.waiting ?? this.tool
      this.waiting = undefined
      this.changed = true
      if (!has('M', value => value === 3 || value === 4)) this.spindle = undefined
    } else if (!this.changed && this.waiting) {
      this.tool = this.waiting
    }
  }

  private code(letter: string, value: number, own: string, words: Words, line: number): void {
    const group = CODES.get(`${letter}${value}`)?.group
    const besides = (other: string) =>
      [own, ...words.filter(word => word.letter === other).map(word => written(this.source.program, word))].join(' ')
    if (letter === 'G' && value === 92) this.shifted.push(line)
    else if (group === Group.radius) {
      this.compensation = value === 40 ? undefined : { written: besides('D'), line }
    } else if (group === Group.length) this.codes.set(group, value === 49 ? own : besides(value === 43 ? 'H' : 'Z'))
    else if (letter === 'G' && value === 4) this.dwell = this.spindle ? besides('P') : this.dwell
    else if (group === Group.spindle) {
      this.spindle = value === 5 ? undefined : own
      this.dwell = undefined
    } else if (group === Group.coolant) this.coolant = value === 9 ? [] : [...new Set([...this.coolant, own])]
    else if (group !== undefined && !LEFT_OUT.includes(group)) this.codes.set(group, own)
  }
}
