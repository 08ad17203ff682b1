import { type Harm, harmsOf } from './limits.ts'
import { CannotJudge } from './reader.ts'
import { type Stage, type Trial, tryJob } from './trial.ts'

export interface Verdict {
  readonly is: 'harmless' | 'different' | 'harmful' | 'unclear'
  readonly harms: readonly Harm[]
  /** Why it is unclear. */
  readonly why?: string
}

/** Places nearer than this are the same place, mm: the goal's own measure. */
const SAME = 0.05

/** What a job with a fault in it does, beside the same job without. */
export function judge(clean: Trial, files: ReadonlyMap<string, string>, sheet: string): Verdict {
  let trial: Trial
  try {
    trial = tryJob(files, sheet)
  } catch (error) {
    if (error instanceof CannotJudge) return { is: 'unclear', harms: [], why: error.message }
    throw error
  }
  const harms = harmsOf(trial)
  if (harms.length > 0) return { is: 'harmful', harms }
  return { is: isSame(clean, trial) ? 'harmless' : 'different', harms }
}

function isSame(clean: Trial, trial: Trial): boolean {
  if (JSON.stringify([...clean.bits]) !== JSON.stringify([...trial.bits])) return false
  for (const [name, copy] of clean.copies) {
    const other = trial.copies.get(name)
    if (!other || other.stages.length !== copy.stages.length) return false
    if (!copy.stages.every((stage, at) => sameWood(stage, other.stages[at]) && samePath(stage, other.stages[at])))
      return false
    if (!sameInsert(copy.stages.at(-1), other.stages.at(-1))) return false
    if (copy.fit && other.fit && Math.abs(copy.fit.tightest - other.fit.tightest) > SAME) return false
  }
  return true
}

function sameWood(a: Stage, b: Stage): boolean {
  if (a.after.hi.length !== b.after.hi.length) return false
  const [x, y] = [a.after.tops(), b.after.tops()]
  return x.every(
    (top, index) => Math.abs(top - y[index]) <= SAME || top === y[index] || nearWall(x, y, index, a.after.nx),
  )
}

/** A face may lie where it should and yet not be of what it should: how thick the insert is in the finished piece. */
function sameInsert(a: Stage | undefined, b: Stage | undefined): boolean {
  if (!a || !b) return a === b
  const thick = ({ after }: Stage) => after.insertHi.map((hi, index) => Math.max(0, hi - after.insertLo[index]))
  const [x, y] = [thick(a), thick(b)]
  return x.every((own, index) => Math.abs(own - y[index]) <= SAME || nearWall(x, y, index, a.after.nx))
}

/** A wall that moved by a hair may take in the middle of one more cell: its height is then that of a neighbour. */
function nearWall(x: Float64Array, y: Float64Array, index: number, nx: number): boolean {
  return [-1, 1, -nx, nx].some(by => Math.abs((x[index + by] ?? Infinity) - y[index]) <= SAME)
}

/**
 * Walls show in the wood only to a cell: the ends of cutting motions must lie together as well, and each be of its
 * kind. Motions that go nowhere and ones over the wood do not count; those below its face do, for a skin thinner than a
 * cell may stand there unseen.
 */
function samePath(a: Stage, b: Stage): boolean {
  const [one, other] = [cutting(a), cutting(b)]
  if (one.length !== other.length) return one.length < other.length && isSubset(one, other)
  return one.every((from, at) => together(from, other[at]))
}

interface End {
  readonly kind: string
  readonly to: readonly (number | undefined)[]
}

function cutting(stage: Stage): End[] {
  const last = new Map<number, readonly (number | undefined)[]>()
  for (const step of stage.steps) last.set(step.motion, step.to)
  const face = stage.before.tops().reduce((most, top) => Math.max(most, top), -Infinity)
  return stage.facts
    .filter(fact => fact.volume > 1e-3 || fact.rapid || fact.lowest < face)
    .map(({ step, rapid }) => ({
      kind: `${rapid} ${step.tool} ${step.spinning} ${step.speed} ${rapid ? '' : step.feed}`,
      to: (last.get(step.motion) ?? []).map((v, k) => (v === undefined ? v : v + stage.shift[k])),
    }))
}

function together(a: End, b: End): boolean {
  return a.kind === b.kind && a.to.every((v, k) => v === b.to[k] || Math.abs((v ?? 0) - (b.to[k] ?? 0)) <= SAME)
}

/** The same motions in the same order, some of them twice. */
function isSubset(one: readonly End[], other: readonly End[]): boolean {
  let at = 0
  for (const end of other) if (at < one.length && together(one[at], end)) at++
  return at === one.length
}
