import { CODES, Group } from '../../machine/words.ts'
import { Refusal, type Source, wordsByLine, written } from '../rewrites/source.ts'

/** What a machine remembers before a line beside where it stands, as the words that set it are written. */
export interface StateAt {
  /** By modal group, without motion and what acts once; the plane and the rest of Table 4. */
  readonly codes: ReadonlyMap<number, string>
  readonly coolant: readonly string[]
  readonly spindle?: string
  readonly speed?: string
  readonly feed?: string
  /** T word of the bit in the spindle, and whether M6 put it there. */
  readonly tool?: string
  readonly changed: boolean
  /** G4 with its P, after the spindle was last started. */
  readonly dwell?: string
  /** Words that a drilling cycle keeps, by letter, since it began. */
  readonly cycle: ReadonlyMap<string, string>
}

const LEFT_OUT: readonly number[] = [Group.once, Group.motion, Group.units, Group.distance, Group.feedMode]

/**
 * Gathers the memory of the machine before a line, of a program that is obeyed in the order of its lines.
 * @throws Refusal where something was set that no program can set again
 */
export function stateAt(source: Source, before: number): StateAt {
  const codes = new Map<number, string>()
  const cycle = new Map<string, string>()
  let coolant: string[] = []
  let [spindle, speed, feed, tool, selected, dwell]: (string | undefined)[] = []
  let changed = false
  const lines = wordsByLine(source)
  for (let line = 0; line < before; line++) {
    const words = lines[line] ?? []
    const text = (letter: string) =>
      words.filter(word => word.letter === letter).map(word => written(source.program, word))[0]
    for (const word of words) {
      const { letter, value } = word
      const own = written(source.program, word)
      if (letter === 'F') feed = own
      else if (letter === 'S') speed = own
      else if (letter === 'T') {
        selected = own
        if (!changed) tool = own
      } else if ('ZRQP'.includes(letter) && words.every(each => each.letter !== 'G' || each.value !== 4))
        cycle.set(letter, own)
      if (letter !== 'G' && letter !== 'M') continue
      const group = CODES.get(`${letter}${value}`)?.group
      if (letter === 'G' && Math.floor(value) === 92 && value !== 92.1) {
        throw new Refusal(
          `Line ${line + 1} moves the zero to where the bit stands (G92); after a stop nobody knows where that was. Set the zero as it was and take the line out first.`,
        )
      }
      if (letter === 'G' && (value === 41 || value === 42)) codes.set(Group.radius, own)
      else if (letter === 'G' && value === 43) codes.set(Group.length, [own, text('H')].filter(Boolean).join(' '))
      else if (letter === 'G' && value === 4) dwell = spindle ? [own, text('P')].filter(Boolean).join(' ') : dwell
      else if (letter === 'G' && value >= 81 && value <= 89) cycle.clear()
      else if (group === Group.spindle) {
        spindle = value === 5 ? undefined : own
        dwell = undefined
      } else if (group === Group.coolant) coolant = value === 9 ? [] : [...coolant, own]
      else if (group === Group.change) {
        tool = selected ?? tool
        changed = true
        spindle = undefined
      } else if (letter === 'G' && group !== undefined && !LEFT_OUT.includes(group)) codes.set(group, own)
    }
    // The words of a cycle's own first line stand beside its code.
    if (words.some(({ letter, value }) => letter === 'G' && value >= 81 && value <= 89)) {
      for (const letter of 'ZRQP') {
        const own = text(letter)
        if (own) cycle.set(letter, own)
      }
    }
  }
  const compensated = codes.get(Group.radius)
  if (compensated && !/40$/.test(compensated)) {
    throw new Refusal(`The bit runs beside its path here (${compensated}): start again from a line before that.`)
  }
  return { codes, coolant, spindle, speed, feed, tool, changed, dwell, cycle }
}
