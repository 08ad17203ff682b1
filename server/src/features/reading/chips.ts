import type { Run } from '../../job/outcome.ts'
import type { Machine } from '../../job/sheet.ts'
import { bitOf, cutsSideways } from '../../rules/common/inWood.ts'
import { stretches } from '../../rules/common/stretches.ts'
import type { Bit } from '../../stock/bit.ts'
import { loadsOf } from '../../stock/load.ts'
import type { TextSpan } from '../../syntax/source.ts'

/** Chip loads of the level cuts that an F or S word is in force for, mm per tooth. */
export interface Chips {
  readonly bit: Bit
  readonly least: number
  readonly most: number
  readonly moves: number
}

export interface ChipsOfWords {
  /** By `wordKey` of an F word, and of an S word; of several bits the one that is worst off. */
  readonly feeds: ReadonlyMap<string, Chips>
  readonly speeds: ReadonlyMap<string, Chips>
}

export const wordKey = ({ line, start }: TextSpan) => `${line} ${start}`

const known = new WeakMap<Run, ChipsOfWords>()

/**
 * What each F and S of a program makes of the chip load: feed / (rev/min x flutes), over the moves that the rules judge
 * it on (level, wide enough, long enough to come to the feed).
 */
export function chipsOf(run: Run, machine: Machine): ChipsOfWords {
  const made = known.get(run)
  if (made) return made
  const { program } = run
  const { motions, states } = program
  const feeds = new Map<string, Chips>()
  const speeds = new Map<string, Chips>()
  const lengths = stretches(program)
  const { chipLoad } = loadsOf(run, machine.spindle)
  const acceleration = Math.min(machine.acceleration[0], machine.acceleration[1])
  for (let i = 0; i < motions.count; i++) {
    const bit = bitOf(run, i)
    if (!bit || !cutsSideways(run, i, bit)) continue
    const { feed, feedWord, speedWord } = states[motions.state[i]]
    const load = chipLoad[i]
    if (!(load > 0) || lengths[i] < (feed / 60) ** 2 / acceleration) continue
    if (feedWord) note(feeds, feedWord, bit, load)
    if (speedWord && !machine.spindle.manual) note(speeds, speedWord, bit, load)
  }
  const chips = { feeds, speeds }
  known.set(run, chips)
  return chips
}

function note(of: Map<string, Chips>, word: TextSpan, bit: Bit, load: number): void {
  const key = wordKey(word)
  const before = of.get(key)
  if (!before) of.set(key, { bit, least: load, most: load, moves: 1 })
  else if (before.bit === bit) {
    const { least, most, moves } = before
    of.set(key, { bit, least: Math.min(least, load), most: Math.max(most, load), moves: moves + 1 })
  } else if (load / bit.chipLoad[1] > before.most / before.bit.chipLoad[1]) {
    of.set(key, { bit, least: load, most: load, moves: 1 })
  }
}

/** Whether any of the loads is outside what the bit takes; too little only where the bit's range is declared. */
export function outOfRange({ bit, least, most }: Chips): 'too much' | 'too little' | undefined {
  // A load worked out from inches may be over by a hair.
  if (most > bit.chipLoad[1] * 1.001) return 'too much'
  return bit.chipLoadDeclared && least < bit.chipLoad[0] / 1.001 ? 'too little' : undefined
}
