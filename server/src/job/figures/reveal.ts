import type { Chain, Inlay } from '../chain.ts'
import type { CopyFigures } from '../outcome.ts'
import { both, countOf, type Mask, outOf, spanOf, surfaceOf } from '../regions.ts'
import { reclamped } from './clampings.ts'
import { offFloorOf } from './offFloor.ts'
import { apart, figure, makerAt, originOf, pocketOrigin } from './origin.ts'
import { mm, takenBy } from './pencil.ts'
import { leastCell, type Piece, stepsMaking } from './piece.ts'

/** Least distance by which the cavity passes the buried face of an inlay, and how much of the motif shows. */
export function revealFigure(chain: Chain, piece: Piece): CopyFigures['reveal'] {
  const { cavity, side } = piece
  if (!cavity || chain.inlays.length === 0) return undefined
  let least: { inlay: Inlay; found: NonNullable<ReturnType<typeof leastCell>> } | undefined
  let motif = 0
  let shows = 0
  for (const inlay of chain.inlays) {
    // Seen from the side it was set in from, an inlay shows without a cavity.
    if (inlay.side === side) continue
    motif += countOf(inlay.face)
    const under = both(inlay.face, cavity)
    const passed = passedBy(chain, piece, inlay, under)
    const [from, to] = spanOf(under)
    for (let k = from; k < to; k++) if (under[k] !== 0 && passed[k] > 0) shows++
    const found = leastCell(chain, under, passed)
    if (found && (!least || found.value < least.found.value)) least = { inlay, found }
  }
  if (!least) return undefined
  const { inlay, found } = least
  const { cell, value, at } = found
  const floor = originOf(chain, makerAt(chain, cell, side), side)
  const spread = apart(floor, pocketOrigin(chain, inlay.pocket), chain)
  const cavityStep = stepsMaking(chain, 'cavity')[0]
  const pocketStep = chain.steps.find(({ run }) => run?.setup === inlay.pocket.setup)
  const apartBy = chain.sheet.tolerances.register * reclamped(chain, pocketStep, cavityStep)
  const offFloor = chain.inlays
    .filter(other => other.side !== side)
    .map(other => offFloorOf(chain, piece, other, apartBy))
    .find(found => found !== undefined)
  return {
    ...figure(value, spread, { at, sum: sumOf(chain, piece, inlay, cell, value) }),
    shown: shows / motif,
    offFloor,
  }
}

function sumOf(chain: Chain, { side }: Piece, inlay: Inlay, cell: number, value: number): string {
  const off = (side === 'top' ? chain.thickness : 0) - outOf(chain.final, cell, side)
  const by = takenBy(chain, cell, side)
  const buried = side === 'top' ? inlay.buried[cell] : chain.thickness - inlay.buried[cell]
  const film = inlay.gapBeneath > 0.005 ? ` - ${mm(inlay.gapBeneath)} gap beneath` : ''
  const left = chain.thickness - off
  return `${mm(buried + inlay.gapBeneath)} pocket${film} = ${mm(buried)} buried face; ${mm(chain.thickness)} thick - ${mm(off)} ${by} = ${mm(left)}; ${mm(buried)} - ${mm(left)} = ${mm(value)} past the inlay's face`
}

/** How far the cavity goes past the buried side of an inlay, by cell of a mask, mm. */
function passedBy({ final }: Chain, { side }: Piece, { buried }: Inlay, mask: Mask): Float32Array {
  const surface = surfaceOf(final, side)
  const sign = side === 'top' ? 1 : -1
  const passed = new Float32Array(mask.length)
  const [from, to] = spanOf(mask)
  for (let k = from; k < to; k++) if (mask[k] !== 0) passed[k] = sign * buried[k] - surface[k]
  return passed
}
