import { programFigures } from '../../job/figures/programFigures.ts'
import type { JobOutcome, Run, SetupOutcome } from '../../job/outcome.ts'
import { type ChangedPlace, changedPlaces } from './places.ts'
import { type CutDifference, cutDifference } from './whatChanged.ts'

/** What an edit of a program does in one set-up of one copy. */
export interface SetupChange {
  readonly setup: string
  /** '' where the blank lists none. */
  readonly copy: string
  /** mm³, blank frame; undefined where the two pieces cannot be compared: another blank, or another bit. */
  readonly cut?: {
    readonly more: number
    readonly less: number
    readonly places: readonly ChangedPlace[]
    readonly specks: number
    readonly difference: CutDifference
  }
  /** Seconds, with acceleration, before and after. */
  readonly time: readonly [number, number]
  /** Deepest cut below the face, mm, before and after; absent where nothing is cut. */
  readonly deepest: readonly [number | undefined, number | undefined]
}

/**
 * Compares two workings-out of a job that differ in one program, by what that program leaves behind in each of its
 * set-ups (blank frame, after the set-up) and by its time.
 */
export function changesOf(before: JobOutcome, after: JobOutcome, program: string): SetupChange[] {
  return after.copies.flatMap(({ copy, setups }) => {
    const old = before.copies.find(each => each.copy === copy)?.setups ?? []
    return setups.flatMap(now => {
      const then = old.find(({ setup }) => setup.name === now.setup.name)
      if (now.run?.setup.program !== program || !then?.run) return []
      return [changeOf(then, now, then.run, now.run, before, after, copy)]
    })
  })
}

function changeOf(
  then: SetupOutcome,
  now: SetupOutcome,
  oldRun: Run,
  run: Run,
  before: JobOutcome,
  after: JobOutcome,
  copy: string,
): SetupChange {
  const difference = cutDifference(then.stock, now.stock)
  const [was, is] = [programFigures(oldRun, before.sheet.machine), programFigures(run, after.sheet.machine)]
  return {
    setup: now.setup.name,
    copy,
    ...(difference ? { cut: { ...changedPlaces(difference), difference } } : {}),
    time: [was.time.estimated, is.time.estimated],
    deepest: [was.deepest?.depth, is.deepest?.depth],
  }
}
