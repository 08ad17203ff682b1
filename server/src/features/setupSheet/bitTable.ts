import { directionAt, movesOf } from '../../job/figures/moves.ts'
import type { JobOutcome, Run } from '../../job/outcome.ts'
import type { Bit } from '../../stock/bit.ts'
import { figuresOf, timeText } from '../sheet/setupFigures.ts'
import { bitsOf } from './handWork.ts'
import { type Lengths, plain, table } from './markup.ts'

/** The bits of a run in the order in which they cut: what to set, and what the program will do with each. */
export function bitTable(run: Run, outcome: JobOutcome, lengths: Lengths): string {
  const { machine } = outcome.sheet
  const figures = figuresOf(run, outcome)
  const used = usedBits(run)
  const rows = used.map(bit => {
    const { across, down, speeds } = ratesOf(run, bit)
    const own = figures.bits[bit.number]
    const speed = machine.spindle.manual ? `${machine.spindle.speed}, by hand` : between(speeds, 0)
    return [
      `${bit.number}`,
      `${bit.name}: ${shapeText(bit, lengths)}`,
      lengths.of(bit.stickout),
      speed || '—',
      between(across, 0) || '—',
      between(down, 0) || '—',
      own?.chipLoad ? between([...own.chipLoad], 3) : '—',
      own ? timeText(own.time).replaceAll(' ', '\u00a0') : '—',
    ]
  })
  const heads = ['Bit', 'What it is', 'Stickout to set', 'Speed, rev/min', 'Feed, mm/min', 'Down, mm/min']
  return table([...heads, 'Chip, mm', 'At feed'], rows, 'bits')
}

export function usedBits(run: Run): Bit[] {
  const order = [...new Set(bitsOf(run))]
  return order.flatMap(number => run.bitOfState.find(bit => bit?.number === number) ?? [])
}

function shapeText({ shape, diameter, cornerRadius, angle, flutes, spiral }: Bit, lengths: Lengths): string {
  const more = shape === 'bowl' ? `, corner ${plain(cornerRadius)}` : angle > 0 ? `, ${plain(angle)}°` : ''
  return `${shape}, ${lengths.of(diameter)}${more}, ${flutes} flutes, ${spiral}`
}

/** Feeds of cuts that go sideways, downward parts of those that go down (mm/min), speeds asked for (rev/min). */
function ratesOf({ program, bitOfState }: Run, bit: Bit) {
  const { motions, states } = program
  const across: number[] = []
  const down: number[] = []
  const speeds: number[] = []
  for (const move of movesOf(motions)) {
    const state = motions.state[move.index]
    if (!move.isCut || bitOfState[state]?.number !== bit.number || !(move.length > 0)) continue
    const { feed, speed, inverseTime } = states[state]
    if (speed > 0) speeds.push(speed)
    if (!(feed > 0) || inverseTime) continue
    const slope = directionAt(move, 'start')[2]
    if (Math.abs(slope) < 0.5) across.push(feed)
    if (slope < -1e-6) down.push(-slope * feed)
  }
  return { across, down: [down.reduce((a, b) => Math.max(a, b), 0)].filter(most => most > 0), speeds }
}

function between(values: readonly number[], places: number): string {
  if (values.length === 0) return ''
  const least = values.reduce((a, b) => Math.min(a, b)).toFixed(places)
  const most = values.reduce((a, b) => Math.max(a, b)).toFixed(places)
  return least === most ? least : `${least} to ${most}`
}
