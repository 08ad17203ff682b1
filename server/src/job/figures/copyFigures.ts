import type { Chain } from '../chain.ts'
import { measuredOn } from '../measured.ts'
import type { Memo } from '../memo.ts'
import type { CopyFigures } from '../outcome.ts'
import { finalVolume } from './finalVolume.ts'
import { fitFigures } from './fit.ts'
import { floorFigure } from './floor.ts'
import { inlayLeftFigure } from './inlayLeft.ts'
import { levelProud } from './levelProud.ts'
import { pieceOf } from './piece.ts'
import { resinFigures } from './resin.ts'
import { revealFigure } from './reveal.ts'
import { wallFigure } from './wall.ts'

/** All figures of one copy; those that do not apply are left out. */
export function copyFigures(chain: Chain, memo: Memo): CopyFigures {
  // How the programs lie does not show in the stock alone: two zeros may lead to the same wood.
  const zeros = chain.steps.map(({ setup }) =>
    setup.kind === 'program' ? [setup.makes, setup.lie, setup.zero] : setup.kind,
  )
  const measures = JSON.stringify(chain.steps.map(({ setup }) => measuredOn(setup, chain.copy)))
  const resin = chain.inlays.map(({ setup }) => setup.insert)
  const key = `figures ${chain.key} ${JSON.stringify([zeros, resin, chain.sheet.tolerances, chain.thickness])} ${measures}`
  // Each a step of its own: who must stay answerable can put the work aside between them.
  const step = <T>(name: string, make: () => T): T => memo.get(`${name} of ${key}`, make)
  return memo.get(key, () => {
    const piece = step('piece', () => pieceOf(chain))
    return {
      floor: step('floor', () => floorFigure(chain, piece)),
      wall: step('wall', () => wallFigure(chain)),
      reveal: step('reveal', () => revealFigure(chain, piece)),
      inlayLeft: step('inlayLeft', () => inlayLeftFigure(chain, piece)),
      fit: step('fit', () => fitFigures(chain, piece, memo)),
      level: memo.get(`level ${levelledIn(chain, memo)}`, () => levelProud(chain)),
      resin: resinFigures(chain),
      finalVolume: step('finalVolume', () => finalVolume(chain, piece)),
    }
  })
}

/** All that the height of the inlays over the levelled face depends on. */
function levelledIn({ steps, inlays }: Chain, memo: Memo): string {
  const levels = steps.map(
    ({ setup, run, after }) => run?.setup.makes === 'level' && [setup.index, memo.identity(after)],
  )
  return `${levels} ${inlays.map(inlay => memo.identity(inlay))} ${steps.map(({ setup }) => setup.index)}`
}
