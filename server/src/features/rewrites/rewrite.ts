import type { Run } from '../../job/outcome.ts'
import { withoutAir } from './air.ts'
import { arcsByCentre, arcsByRadius } from './arcForms.ts'
import { arcsFromLines } from './arcsFromLines.ts'
import { numbersIn, rewriteOf } from './catalogue.ts'
import { feedBy, feedForChip } from './feed.ts'
import { deeper, stepped } from './levels.ts'
import { renumbered, unnumbered } from './lineNumbers.ts'
import { linesFromArcs } from './linesFromArcs.ts'
import { inDistances, inUnits } from './measures.ts'
import { middleOf, mirror, quarterTurn, scale, shift } from './place.ts'
import type { Rewritten, Source } from './source.ts'

/**
 * Does one of the rewrites of the catalogue.
 * @param answer to its question, as it was written; '' where it asks nothing
 * @param runs of the program in its job, where it has one
 */
export function rewrite(source: Source, id: string, answer: string, runs: readonly Run[]): Rewritten {
  const kind = rewriteOf(id)
  if (!kind) return { why: 'There is no such rewrite.' }
  const numbers = numbersIn(kind, answer)
  if (typeof numbers === 'string') return { why: numbers }
  const [a, b, c] = numbers
  const middle = middleOf(source)
  const noMiddle = { why: 'Nothing is cut in this program, so that it has no middle: write a place.' }
  switch (kind.id) {
    case 'shift':
      return shift(source, [a, b, c ?? 0])
    case 'mirrorX':
    case 'mirrorY': {
      const axis = kind.id === 'mirrorX' ? 'x' : 'y'
      const at = a ?? middle?.[axis === 'x' ? 0 : 1]
      return at === undefined ? noMiddle : mirror(source, axis, at)
    }
    case 'turnLeft':
    case 'turnRight': {
      const at = a === undefined ? middle : ([a, b] as const)
      return at ? quarterTurn(source, kind.id === 'turnLeft' ? 'left' : 'right', at) : noMiddle
    }
    case 'scale':
      return scale(source, a, [0, 0, 0], false)
    case 'scaleAll':
      return scale(source, a, [0, 0, 0], true)
    case 'feedBy':
      return feedBy(source, a)
    case 'feedForChip':
      return feedForChip(source, a, tool => flutesOf(runs, tool))
    case 'deeper':
      return deeper(source, a)
    case 'stepped':
      return stepped(source, a, b ?? 0)
    case 'withoutAir':
      return withoutAir(source, runs)
    case 'arcsFromLines':
      return arcsFromLines(source, a)
    case 'linesFromArcs':
      return linesFromArcs(source, a)
    case 'arcsByCentre':
      return arcsByCentre(source)
    case 'arcsByRadius':
      return arcsByRadius(source)
    case 'toInch':
      return inUnits(source, 'inch')
    case 'toMm':
      return inUnits(source, 'mm')
    case 'toIncremental':
      return inDistances(source, 'incremental')
    case 'toAbsolute':
      return inDistances(source, 'absolute')
    case 'renumber':
      return renumbered(source, a)
    case 'unnumber':
      return unnumbered(source)
  }
}

/** Teeth of the bit in force under a T number (or under none), as the job declares it. */
function flutesOf(runs: readonly Run[], tool: number | undefined): number | undefined {
  for (const { program, bitOfState } of runs) {
    const at = program.states.findIndex((state, n) => state.tool === tool && bitOfState[n])
    const flutes = bitOfState[at]?.flutes
    if (flutes !== undefined) return flutes
  }
  return undefined
}
