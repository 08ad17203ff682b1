import type { JobOutcome } from '../../job/outcome.ts'
import type { Range } from '../../syntax/source.ts'
import { type SetupFigures, setupFigures } from './setupFigures.ts'

/** A line of figures over a part of the sheet. */
export interface Lens {
  readonly range: Range
  readonly title: string
}

/** Over each set-up what it does: bit, depth, time, what is left; of copies that differ, each. */
export function setupLenses(outcome: JobOutcome): Lens[] {
  const { document, sheet } = outcome
  return sheet.setups.flatMap(({ index }) => {
    const { start } = document.rangeOf(['setups', index])
    const range = { start, end: start }
    return setupFigures(outcome, index).map(figures => ({ range, title: lensTitle(figures) }))
  })
}

function lensTitle({ copies, parts }: SetupFigures): string {
  const whose = copies.length > 0 ? `${copies.length > 1 ? 'copies' : 'copy'} ${copies.join(', ')}: ` : ''
  return `${whose}${parts.join(' · ')}`
}
