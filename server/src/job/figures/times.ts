import type { Program } from '../../machine/program.ts'
import type { Machine } from '../sheet.ts'
import { legsOf } from '../time/legs.ts'
import { planned } from '../time/plan.ts'

export interface Times {
  /** Distance over feed, seconds; dwells included. */
  readonly nominal: number
  /** With the machine's acceleration, seconds. */
  readonly estimated: number
  /** Nominal time of each motion, seconds. */
  readonly ofMotion: Float64Array
  /** From the start of the program to the end of each motion with the machine's acceleration, dwells included, seconds. */
  readonly doneAt: Float64Array
}

/**
 * How long a program takes on a machine: by its feeds alone, and as the machine will take it, with its accelerations,
 * corners, arcs and dwells. What hands do at a stop or a change of bits is not in it; nobody declares how long that is.
 */
export function timesOf(program: Program, machine: Machine): Times {
  const { motions, events } = program
  const ofMotion = new Float64Array(motions.count)
  const legs = legsOf(program, machine, ofMotion)
  const seconds = planned(legs)
  const doneAt = new Float64Array(motions.count)
  const dwells = events.filter(event => event.seconds)
  let nominal = 0
  let estimated = 0
  let leg = 0
  let dwell = 0
  const wait = (before: number): void => {
    for (; dwell < dwells.length && dwells[dwell].beforeMotion <= before; dwell++) {
      nominal += dwells[dwell].seconds ?? 0
      estimated += dwells[dwell].seconds ?? 0
    }
  }
  for (let i = 0; i < motions.count; i++) {
    if (dwell < dwells.length) wait(i)
    nominal += ofMotion[i]
    if (leg < legs.count && legs.motion[leg] === i) estimated += seconds[leg++]
    doneAt[i] = estimated
  }
  wait(motions.count)
  return { nominal, estimated, ofMotion, doneAt }
}
