import { type ModalState, MotionKind } from '../../machine/motions.ts'
import type { Program } from '../../machine/program.ts'
import { arcOf, lengthAlong, startOf } from '../../rules/common/path.ts'
import { mm, number, perMinute } from '../../rules/common/wording.ts'
import type { TextSpan } from '../../syntax/source.ts'
import type { Pass } from './passes.ts'

const INCH = 25.4

/** "Straight cut, 40 mm, from X10 Y20 Z5 to X50 Y20 Z-3 mm": what one pass over a line does, in program coordinates. */
export function moveText(program: Program, { first, last }: Pass): string {
  const { motions, states } = program
  const state = states[motions.state[last]]
  const many = last > first ? `${last - first + 1} moves, ` : ''
  let length = 0
  for (let i = first; i <= last; i++) length += lengthAlong(motions, i)
  const long = Number.isFinite(length) ? `${mm(length)}, ` : ''
  const from = inProgram(startOf(motions, first), states[motions.state[first]])
  const to = inProgram([motions.x[last], motions.y[last], motions.z[last]], state)
  const inches =
    state.units === 'inch'
      ? ` (in inches: to ${point(
          to.map(value => value / INCH),
          4,
        )})`
      : ''
  return `${kindText(program, last)}, ${many}${long}from ${point(from)} to ${point(to)} mm${inches}`
}

function kindText(program: Program, motion: number): string {
  const { motions } = program
  const kind = motions.kind[motion] as MotionKind
  if (kind === MotionKind.rapid) return 'Rapid'
  if (kind === MotionKind.probe) return 'Probe'
  const arc = arcOf(motions, motion)
  if (!arc) return 'Straight cut'
  const turn = number((Math.abs(arc.sweep) * 180) / Math.PI, 1)
  const way = kind === MotionKind.arcClockwise ? 'clockwise' : 'counter-clockwise'
  const [start, end] = [startOf(motions, motion), [motions.x[motion], motions.y[motion], motions.z[motion]]]
  const upright = arc.plane === 'XY' ? 2 : arc.plane === 'ZX' ? 1 : 0
  const shape = Math.abs(end[upright] - start[upright]) > 1e-6 ? 'Helix' : 'Arc'
  return `${shape} of radius ${mm(arc.radius)}, ${turn}° ${way}`
}

function inProgram(at: readonly number[], { offset }: ModalState): number[] {
  return at.map((value, axis) => value - offset[axis])
}

function point(at: readonly number[], places = 3): string {
  return at.map((value, axis) => `${'XYZ'[axis]}${Number.isNaN(value) ? '?' : number(value, places)}`).join(' ')
}

/** Feed, speed and bit in force during a motion, and the lines that set them. */
export function inForceText(program: Program, motion: number): string {
  const state = program.states[program.motions.state[motion]]
  const { feed, feedWord, speed, speedWord, spindle, spindleWord, tool, toolWord, inverseTime } = state
  const parts = [
    Number.isNaN(feed) ? 'no feed in force' : `${perMinute(feed)}${inverseTime ? ' by G93' : ''}${since(feedWord)}`,
    Number.isNaN(speed) ? '' : `${number(speed, 0)} rev/min${since(speedWord)}`,
    spindle === 'stopped' ? 'spindle off' : `spindle on${since(spindleWord)}`,
    tool === undefined ? '' : `T${tool}${since(toolWord)}`,
  ]
  return `In force: ${parts.filter(part => part !== '').join(' · ')}`
}

const since = (word: TextSpan | undefined) => (word ? ` (line ${word.line + 1})` : '')

/** "Pass 3 of 5 over this line, called from line 12": which of several it is; '' where there is one. */
export function passText(program: Program, passes: readonly Pass[], shown: number): string {
  if (passes.length < 2) return ''
  const calls = program.callTrail(passes[shown].first)
  const from = calls.length > 0 ? `, called from line ${calls.map(({ line }) => line + 1).join(', ')}` : ''
  return `This line is run ${passes.length} times. What follows is pass ${shown + 1}, the deepest${from}.`
}

/** The pass in which the bit comes lowest; of equals the first. */
export function deepestPass(program: Program, passes: readonly Pass[]): number {
  const { z } = program.motions
  let best = 0
  let lowest = Number.POSITIVE_INFINITY
  for (let n = 0; n < passes.length; n++) {
    for (let i = passes[n].first; i <= passes[n].last; i++) {
      if (!(z[i] < lowest)) continue
      lowest = z[i]
      best = n
    }
  }
  return best
}

/** The motion of a pass that ends lowest: where a drilling cycle stood before it came up again. */
export function lowestMotion(program: Program, { first, last }: Pass): number {
  const { z } = program.motions
  let lowest = last
  for (let i = last; i >= first; i--) if (z[i] < z[lowest]) lowest = i
  return lowest
}
