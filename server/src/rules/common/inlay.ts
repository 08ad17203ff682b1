import type { CopyOutcome, Fit, Run } from '../../job/outcome.ts'
import type { InsertSetup } from '../../job/sheet.ts'
import type { Place, Report } from '../rule.ts'
import { nearestCut } from './figureRule.ts'
import { wordOfMotion } from './words.ts'

/** A plug in its pocket, with the runs that made both. */
export interface Seated {
  readonly fit: Fit
  readonly glue: InsertSetup
  readonly plug: Run
  readonly pocket: Run
}

/** The plug of a copy whose fit is known; undefined for resin, and where there is a doubt (which the sheet is told of). */
export function seated(copy: CopyOutcome): Seated | undefined {
  const { fit } = copy.figures
  if (!fit) return undefined
  for (const { setup } of copy.setups) {
    if (setup.kind !== 'insert' || setup.insert.kind !== 'plug') continue
    const { insert, into } = setup
    const pocket = runOf(copy, into)
    const plug = runOf(copy, insert.plug)
    if (pocket && plug) return { fit, glue: setup, plug, pocket }
  }
  return undefined
}

function runOf(copy: CopyOutcome, name: string): Run | undefined {
  return copy.setups.find(({ setup, run }) => run && setup.name === name)?.run
}

/** The words that cut the pocket's wall at a place of the pocket's blank. */
export function pocketPlace({ pocket }: Seated, at: readonly [number, number]): Place {
  return wallPlace(pocket, at)
}

/** The words that cut the plug's wall which sits at that place. */
export function plugPlace({ plug, fit }: Seated, at: readonly [number, number]): Place {
  const nearest = [...fit.plug.pieces].sort((p, q) => away(p.at, at) - away(q.at, at))[0]
  if (!nearest) return { field: ['setups', plug.setup.index, 'program'] }
  const { a, b, c, d, e, f } = nearest.seating
  return wallPlace(plug, [a * at[0] + b * at[1] + e, c * at[0] + d * at[1] + f])
}

function wallPlace(run: Run, at: readonly [number, number]): Place {
  const motion = nearestCut(run, at)
  if (motion === undefined) return { field: ['setups', run.setup.index, 'program'] }
  return { program: run.setup.program, span: wordOfMotion(run.program, motion, 'XYIJR') }
}

function away(p: readonly [number, number], q: readonly [number, number]): number {
  return Math.hypot(p[0] - q[0], p[1] - q[1])
}

/** The other part of the fit, and the limit, as related places. */
export function otherPart(
  seat: Seated,
  at: readonly [number, number],
  other: 'plug' | 'pocket',
): NonNullable<Report['related']> {
  const place = other === 'plug' ? plugPlace(seat, at) : pocketPlace(seat, at)
  return [
    { place, message: `the wall of the ${other} there` },
    { place: { field: ['limits', 'clearance'] }, message: 'the gap that is accepted' },
  ]
}

/** "at 41.2, 80.5 of the blank" */
export function whereSentence([x, y]: readonly [number, number]): string {
  return `at ${x.toFixed(1)}, ${y.toFixed(1)} of the blank`
}
