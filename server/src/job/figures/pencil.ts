import type { Chain, Step } from '../chain.ts'
import { topOf } from '../columns.ts'
import { measuredOn } from '../measured.ts'
import type { Side } from '../regions.ts'
import { makerAt } from './origin.ts'

/** A number as one writes it on a board: one decimal, two where the second counts. */
export function mm(value: number): string {
  const rounded = Math.round(value * 100) / 100
  const text = Math.abs(rounded * 10 - Math.round(rounded * 10)) < 1e-9 ? rounded.toFixed(1) : rounded.toFixed(2)
  return text === '-0.0' ? '0.0' : text
}

const DONE: Record<string, string> = {
  level: 'levelled',
  cavity: 'cavity',
  pocket: 'pocket',
  outline: 'outline',
  plug: 'plug',
  other: 'cut',
}

/** What took the wood off a column's side, in a word. */
export function takenBy(chain: Chain, cell: number, side: Side): string {
  const step = chain.steps[makerAt(chain, cell, side)]
  if (!step) return 'as received'
  if (step.setup.kind === 'program') return `${DONE[step.setup.makes]}${isMeasured(step) ? ' as measured' : ''}`
  return step.setup.kind === 'saw' ? 'sawn off' : 'inlay'
}

function isMeasured({ setup, run }: Step): boolean {
  const { depth, thickness } = measuredOn(setup, run?.copy ?? '')
  return depth !== undefined || (run?.setup.makes === 'level' && thickness !== undefined)
}

/** "24.0 thick - 0.8 levelled - 16.0 cavity": what is left of the blank's thickness in a column. */
export function leftOver(chain: Chain, cell: number, bottom: number): string {
  const top = topOf(chain.final, cell) ?? 0
  const below = Math.abs(bottom) < 0.005 ? '' : ` - ${mm(bottom)} ${takenBy(chain, cell, 'underside')}`
  const off = chain.thickness - top
  const above = Math.abs(off) < 0.005 ? '' : ` - ${mm(off)} ${takenBy(chain, cell, 'top')}`
  return `${mm(chain.thickness)} thick${below}${above}`.replaceAll('- -', '+ ')
}
