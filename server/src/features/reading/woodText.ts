import type { Run } from '../../job/outcome.ts'
import type { Machine } from '../../job/sheet.ts'
import { bitOf, cuts, cutsSideways, speedOf } from '../../rules/common/inWood.ts'
import { isFeed, startOf } from '../../rules/common/path.ts'
import { mm, number, perMinute } from '../../rules/common/wording.ts'
import { Contact } from '../../stock/engagement.ts'
import { pointAsReceived } from '../../stock/lie.ts'
import { cutFigures } from '../../stock/load.ts'
import { escaped } from '../sheet/markdown.ts'
import { timeText } from '../sheet/setupFigures.ts'
import { clockOf } from './clock.ts'
import { lowestMotion } from './moveText.ts'
import type { Pass } from './passes.ts'
import { leftInTheEnd, leftUnder, nameOfRun } from './wood.ts'

/** What one pass over a line does to the wood, one line each: how deep it is, which matters most, and the rest. */
export interface WoodText {
  readonly depth: readonly string[]
  readonly rest: readonly string[]
}

/** What holds for all runs is said once, the rest with the name of its set-up or copy before it. */
export function woodText(runs: readonly Run[], pass: Pass, machine: Machine): WoodText {
  const [first] = runs
  if (!first) return { depth: [], rest: [] }
  const motion = lowestMotion(first.program, pass)
  return {
    depth: linesOf(runs, [run => depthText(run, motion)]),
    rest: linesOf(runs, [
      run => blankText(run, pass),
      run => engagementText(run, pass),
      run => chipText(run, motion, machine),
      run => timeLine(run, pass, machine),
    ]),
  }
}

function linesOf(runs: readonly Run[], kinds: readonly ((run: Run) => string)[]): string[] {
  return kinds.flatMap(say => {
    const told = new Map<string, Run[]>()
    for (const run of runs) told.set(say(run), [...(told.get(say(run)) ?? []), run])
    const lines = [...told].filter(([words]) => words !== '')
    if (told.size === 1) return lines.map(([words]) => words)
    return lines.map(([words, alike]) => {
      const names = alike.map(run => nameOfRun(run, runs)).filter(name => name !== '')
      return names.length > 0 ? `*${escaped(names.join('; '))}*: ${words}` : words
    })
  })
}

function depthText(run: Run, motion: number): string {
  const z = run.program.motions.z[motion] + run.shift[2]
  if (Number.isNaN(z)) return 'How high the bit stands here is not known.'
  const depth = run.faceLevel - z
  const where =
    Math.abs(depth) < 0.0005 ? 'On the face' : depth > 0 ? `${mm(depth)} under the face` : `${mm(-depth)} over the face`
  const left = leftUnder(run, motion)
  if (left === undefined) return `${where}, beside the blank`
  if (Number.isNaN(left)) return `${where}; which bit is in the spindle is not known`
  const end = leftInTheEnd(run, motion)
  const later =
    end !== undefined && left - end > 0.005 ? `; ${end < 0.005 ? 'nothing' : mm(end)} once the program has run` : ''
  return `${where}; **${left < 0.005 ? 'nothing' : mm(left)} left under the bit**${later}`
}

/** Both ends in the blank frame. */
function blankText(run: Run, { first, last }: Pass): string {
  const { motions } = run.program
  const { width, depth } = run.blank
  const size = { width, depth, thickness: run.thickness }
  const place = (at: readonly number[]) => {
    const [x, y, z] = pointAsReceived(
      [at[0] + run.shift[0], at[1] + run.shift[1], at[2] + run.shift[2]],
      run.setup.lie,
      size,
    )
    return [x, y, z].map(value => (Number.isNaN(value) ? '?' : number(value, 2))).join(', ')
  }
  const from = place(startOf(motions, first))
  return `In the blank, top up: (${from}) to (${place([motions.x[last], motions.y[last], motions.z[last]])})`
}

function engagementText(run: Run, { first, last }: Pass): string {
  const { engagement, program } = run
  let deep = 0
  let radial = 0
  let volume = 0
  let climb = Number.NaN
  let slots = false
  let cutting = false
  for (let i = first; i <= last; i++) {
    volume += engagement.volume[i]
    if (!cuts(run, i)) continue
    cutting = true
    deep = Math.max(deep, engagement.bite[i])
    radial = Math.max(radial, engagement.radial[i])
    if (Number.isFinite(engagement.climb[i])) climb = engagement.climb[i]
    slots ||= (engagement.contact[i] & Contact.slots) !== 0
  }
  if (!cutting) return bitOf(run, last) && isFeed(program.motions, last) ? 'Takes nothing: only air here' : ''
  const way = slots ? ', walls on both sides' : climb > 0.5 ? ', climb' : climb < -0.5 ? ', conventional' : ''
  return `Takes ${mm(deep)} deep and ${mm(radial)} wide${way}, ${number(volume / 1000, volume < 1000 ? 2 : 1)} cm³`
}

/** Chip load against the bit's range; or what there is to say of a descent. */
function chipText(run: Run, motion: number, machine: Machine): string {
  const bit = bitOf(run, motion)
  const { motions, states } = run.program
  if (!bit || !isFeed(motions, motion)) return ''
  const { feed } = states[motions.state[motion]]
  const speed = speedOf(run, motion, machine.spindle)
  const { chipLoad, thickestChip, removalRate, power } = cutFigures(run, motion, machine.spindle)
  const load = chipLoad ?? Number.NaN
  const [least, most] = bit.chipLoad
  const range = `${escaped(bit.name)} takes ${number(least, 3)} to ${number(most, 3)}`
  if (Number.isNaN(load)) return ''
  const sum = `${perMinute(feed)} / (${number(speed, 0)} rev/min × ${bit.flutes})`
  if (!cutsSideways(run, motion, bit)) {
    return cuts(run, motion) ? `${number(load, 3)} mm a tooth if it were level: ${sum}` : ''
  }
  const verdict =
    load > most * 1.001 ? ', **too much**' : bit.chipLoadDeclared && load < least / 1.001 ? ', **too little**' : ''
  const thin = thickestChip !== undefined && thickestChip < load * 0.9
  const chip = thin
    ? `. So little of the width is engaged that the chip is ${number(thickestChip, 3)} mm at its thickest`
    : ''
  const rate =
    removalRate === undefined || power === undefined
      ? ''
      : `. About ${number((removalRate * 60) / 1000, 1)} cm³/min, an estimated ${number(power, 0)} W`
  return `Chip load ${number(load, 3)} mm a tooth${verdict}: ${sum}; ${range}${chip}${rate}`
}

function timeLine(run: Run, { last }: Pass, machine: Machine): string {
  const { doneAt } = clockOf(run.program, machine)
  const all = doneAt[doneAt.length - 1]
  return all > 0 ? `About ${timeText(doneAt[last])} into the program, of ${timeText(all)}` : ''
}
