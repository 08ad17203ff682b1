import type { PreviewJob, PreviewSetup } from '../../server/src/features/preview/protocol.ts'
import { MotionKind } from '../../server/src/machine/motions.ts'
import { lengthOf } from './motionPath.ts'

/** A moment of the job: in set-up `setup`, motion `motion` is done to the share `share`. */
export interface Moment {
  readonly setup: number
  /** -1: before the first motion. In a set-up without a program always -1. */
  readonly motion: number
  readonly share: number
}

/** Rapids are timed at this speed, mm/min: the preview knows no machine, and says "about". */
const RAPID = 4000
/** Feed taken where none is in force, mm/min: the motion must take some time for the scale to reach it. */
const NO_FEED = 1000
/** Share of the whole job's length on the scale given to each step that no program does. */
const BY_HAND = 0.05
/** Seconds given to a step by hand where no program gives a measure. */
const BY_HAND_AT_LEAST = 5

/** The job's time as one scale: seconds from the beginning, all set-ups one after the other. */
export interface Clock {
  readonly total: number
  /** Start of each set-up, and the end of the last. */
  readonly starts: readonly number[]
  /** Seconds that programs run: what is told to a person. */
  readonly running: number
  at(seconds: number): Moment
  secondsOf(moment: Moment): number
  /** The same second, or where the next cut begins if the bit is in the air then; steps by hand are not skipped. */
  pastAir(seconds: number): number
  /** Seconds from the start of a set-up to the end of each of its motions. */
  ends(setup: number): Float64Array
}

/** The clock of a job: distance over feed, no acceleration. */
export function clockOf(job: PreviewJob): Clock {
  const ends = job.setups.map(endsOf)
  const running = ends.reduce((sum, each) => sum + (each.length ? each[each.length - 1] : 0), 0)
  const byHand = Math.max(BY_HAND_AT_LEAST, running * BY_HAND)
  const starts = [0]
  job.setups.forEach((setup, i) => {
    const own = ends[i].length ? ends[i][ends[i].length - 1] : 0
    starts.push(starts[i] + (setup.kind === 'program' ? Math.max(own, 1e-6) : byHand))
  })
  const total = starts[starts.length - 1]
  return {
    total,
    starts,
    running,
    ends: setup => ends[setup],
    at(seconds) {
      if (!job.setups.length) return { setup: 0, motion: -1, share: 1 }
      const t = Math.min(Math.max(seconds, 0), total)
      let setup = 0
      while (setup < job.setups.length - 1 && t >= starts[setup + 1]) setup++
      const inside = t - starts[setup]
      const list = ends[setup]
      if (!list.length) return { setup, motion: -1, share: 1 }
      if (inside <= 0) return { setup, motion: -1, share: 1 }
      const motion = firstNotBefore(list, inside)
      const from = motion > 0 ? list[motion - 1] : 0
      const length = list[motion] - from
      return { setup, motion, share: length > 0 ? Math.min(1, (inside - from) / length) : 1 }
    },
    pastAir(seconds) {
      const moment = this.at(seconds)
      const setup = job.setups[moment.setup]
      if (setup?.kind !== 'program') return seconds
      let { motion } = moment
      while (motion >= 0 && motion < setup.motions.count && !(setup.axial[motion] > 0)) motion++
      if (motion === moment.motion || motion < 0) return seconds
      return starts[moment.setup] + (motion > 0 ? ends[moment.setup][motion - 1] : 0)
    },
    secondsOf({ setup, motion, share }) {
      const list = ends[setup]
      if (!list || motion < 0 || !list.length) return starts[setup] ?? 0
      const i = Math.min(motion, list.length - 1)
      const from = i > 0 ? list[i - 1] : 0
      return starts[setup] + from + (list[i] - from) * share
    },
  }
}

function endsOf(setup: PreviewSetup): Float64Array {
  if (setup.kind !== 'program') return new Float64Array(0)
  const { motions, feedOfState } = setup
  const ends = new Float64Array(motions.count)
  let t = 0
  for (let i = 0; i < motions.count; i++) {
    const feed = feedOfState[motions.state[i]]
    const speed = motions.kind[i] === MotionKind.rapid ? RAPID : feed > 0 ? feed : NO_FEED
    // A motion of no length still takes a step, so that each has a place of its own on the scale.
    t += Math.max((lengthOf(motions, i) / speed) * 60, 1e-5)
    ends[i] = t
  }
  return ends
}

/** First index whose value is at least `value`; the last where none is. `list` ascends. */
function firstNotBefore(list: Float64Array, value: number): number {
  let low = 0
  let high = list.length - 1
  while (low < high) {
    const middle = (low + high) >> 1
    if (list[middle] < value) low = middle + 1
    else high = middle
  }
  return low
}

/** Seconds as a person says them: `48 s`, `12 min`, `1 h 05 min`. */
export function sayTime(seconds: number): string {
  if (seconds < 90) return `${Math.round(seconds)} s`
  const minutes = Math.round(seconds / 60)
  if (minutes < 60) return `${minutes} min`
  return `${Math.floor(minutes / 60)} h ${String(minutes % 60).padStart(2, '0')} min`
}
