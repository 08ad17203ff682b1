import { type ProgramFigures, programFigures } from '../../job/figures/programFigures.ts'
import type { CopyOutcome, JobOutcome, Run } from '../../job/outcome.ts'
import type { Setup } from '../../job/sheet.ts'
import { mm, number } from '../../rules/common/wording.ts'
import { EMPTY, type Stock } from '../../stock/stock.ts'

/** What a set-up does on the copies that it does the same on. */
export interface SetupFigures {
  /** Names of those copies; empty where the set-up is alike on all of the job. */
  readonly copies: readonly string[]
  /** One figure each, in words: the bit, the depth, the time, what is left. */
  readonly parts: readonly string[]
}

/** The figures of a set-up, told once for copies on which they read alike. */
export function setupFigures(outcome: JobOutcome, index: number): SetupFigures[] {
  const told = new Map<string, { copies: string[]; parts: readonly string[] }>()
  for (const copy of outcome.copies) {
    const done = copy.setups.find(({ setup }) => setup.index === index)
    const parts = !done ? [] : done.run ? runParts(done.run, outcome) : otherParts(done.setup, copy)
    if (parts.length === 0) continue
    const known = told.get(parts.join('\n'))
    if (known) known.copies.push(copy.copy)
    else told.set(parts.join('\n'), { copies: [copy.copy], parts })
  }
  const all = [...told.values()]
  return all.length === 1 && all[0].copies.length === outcome.copies.length
    ? [{ copies: [], parts: all[0].parts }]
    : all
}

/** A check is asked for these by every lens and hover, and a run does not change. */
const figuresOfRun = new WeakMap<Run, ProgramFigures>()

export function figuresOf(run: Run, outcome: JobOutcome): ProgramFigures {
  const known = figuresOfRun.get(run)
  if (known) return known
  const figures = programFigures(run, outcome.sheet.machine)
  figuresOfRun.set(run, figures)
  return figures
}

function runParts(run: Run, outcome: JobOutcome): string[] {
  const { deepest, bits, time, removedVolume } = figuresOf(run, outcome)
  const names = Object.keys(bits).map(bit => {
    const known = outcome.sheet.bits.get(Number(bit))
    return `bit ${bit}${known ? ` (${known.name})` : ''}`
  })
  const left = leftUnder(run)
  return [
    ...names,
    deepest ? `${mm(deepest.depth)} deep` : 'cuts nothing',
    ...(time.estimated > 0 ? [timeText(time.estimated)] : []),
    ...(removedVolume > 0 ? [`${number(removedVolume / 1000, 1)} cm³ of chips`] : []),
    ...(left === undefined ? [] : [left < 0.005 ? 'goes right through' : `${mm(left)} left at the thinnest`]),
  ]
}

function otherParts(setup: Setup, { figures, inserts }: CopyOutcome): string[] {
  if (setup.kind === 'saw') return [`leaves ${mm(setup.leaves)}`]
  if (setup.kind !== 'insert' || !inserts.some(insert => insert.setup.index === setup.index)) return []
  const { fit, resin } = figures
  if (setup.insert.kind === 'plug') {
    if (!fit) return []
    return [
      `gap ${fit.tightest.nominal.toFixed(2)} to ${fit.loosest.nominal.toFixed(2)} mm`,
      `${mm(fit.gapBeneath)} beneath`,
      fit.proud < 0 ? `${mm(-fit.proud)} sunk` : `${mm(fit.proud)} proud`,
    ]
  }
  if (!resin) return []
  const byWeight = setup.insert.by === 'weight'
  const [a, b] = resin.parts.map(part => (byWeight ? part : part / 1000))
  return [
    `${number(resin.withOverfill / 1000, 1)} cm³ of resin`,
    `${number(resin.mass, 0)} g`,
    `${number(a, 1)} : ${number(b, 1)} ${byWeight ? 'g' : 'cm³'}`,
    `${resin.pours} pour${resin.pours === 1 ? '' : 's'}`,
  ]
}

/** "5 min 40 s" */
export function timeText(seconds: number): string {
  const whole = Math.round(seconds)
  const [hours, minutes, rest] = [Math.floor(whole / 3600), Math.floor(whole / 60) % 60, whole % 60]
  if (hours > 0) return `${hours} h ${minutes} min`
  return minutes > 0 ? `${minutes} min ${rest} s` : `${rest} s`
}

const leftOfRun = new WeakMap<Run, { readonly left: number | undefined }>()

/** The least that a run leaves of everything solid where it took something, mm; undefined where it took nothing. */
function leftUnder(run: Run): number | undefined {
  const known = leftOfRun.get(run)
  if (known) return known.left
  const before = solids(run.before)
  const after = solids(run.after)
  let left: number | undefined
  for (let cell = 0; cell < before.length; cell++) {
    // A stroke of single precision is no cut.
    if (!(before[cell] - after[cell] > 1e-3)) continue
    if (left === undefined || after[cell] < left) left = after[cell]
  }
  leftOfRun.set(run, { left })
  return left
}

function solids({ layers }: Stock): Float64Array {
  const sum = new Float64Array(layers[0]?.hi.length ?? 0)
  for (const { hi, lo } of layers) {
    for (let cell = 0; cell < sum.length; cell++) if (hi[cell] > EMPTY) sum[cell] += hi[cell] - lo[cell]
  }
  return sum
}
