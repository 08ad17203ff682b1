import { type Times, timesOf } from '../../job/figures/times.ts'
import type { Machine } from '../../job/sheet.ts'
import type { Program } from '../../machine/program.ts'

const known = new WeakMap<Program, { readonly machine: Machine; readonly times: Times }>()

/** The times of a program on a machine, reckoned once for as long as both stay the same. */
export function clockOf(program: Program, machine: Machine): Times {
  const made = known.get(program)
  if (made?.machine === machine) return made.times
  const times = timesOf(program, machine)
  known.set(program, { machine, times })
  return times
}

/** Seconds that the motions from `first` to `last` take with the machine's acceleration, both counted. */
export function secondsOf({ doneAt }: Times, first: number, last: number): number {
  return doneAt[last] - (first > 0 ? doneAt[first - 1] : 0)
}
