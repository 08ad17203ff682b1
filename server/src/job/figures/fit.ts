import { EMPTY } from '../../stock/stock.ts'
import type { Chain, Inlay } from '../chain.ts'
import { fitPlug } from '../fit/fitPlug.ts'
import type { FitInput } from '../fit/input.ts'
import type { GapAt, PlugFit } from '../fit/result.ts'
import { measuredOn } from '../measured.ts'
import type { Memo } from '../memo.ts'
import type { Figure, Fit } from '../outcome.ts'
import { both, surfaceOf, woodRound } from '../regions.ts'
import { glueMovement, type Movement } from './movement.ts'
import { figure, settled } from './origin.ts'
import { leastCell, type Piece } from './piece.ts'

/** Width of the wood beside the insert that tells the levelled face, mm. */
const BESIDE = 3

/** What a feeler gauge tells a gap to, +/- mm. Common practice, no source. */
const FEELER = 0.01

/** The fit of the plug over the heights that are left in the end; of several inserts, the tightest. */
export function fitFigures(chain: Chain, piece: Piece, memo: Memo): Fit | undefined {
  let tightest: Fit | undefined
  for (const inlay of chain.inlays) {
    const found = fitOf(chain, inlay, piece, memo)
    if (found && (!tightest || found.tightest.nominal < tightest.tightest.nominal)) tightest = found
  }
  return tightest
}

function fitOf(chain: Chain, inlay: Inlay, piece: Piece, memo: Memo): Fit | undefined {
  if (!inlay.plug) return undefined
  const { input, sawAt } = inlay.plug
  const left = heightsLeft(chain, inlay, piece)
  const key = `fit ${memo.identity(inlay.plug)} ${left.from} ${left.to}`
  const fit = isStraight(input)
    ? inlay.plug.fit
    : (memo.get(key, () => fitPlug({ ...input, left }).fit) ?? inlay.plug.fit)
  const sawn = (buriedFace: number) => (inlay.side === 'top' ? buriedFace : -buriedFace) + sawAt
  const glued = fit.pieces.map(({ buriedFace }) => {
    const back = Math.min(sawn(buriedFace), left.wood ?? Number.POSITIVE_INFINITY)
    return back - (sawn(buriedFace) - sawAt)
  })
  // The dry fit tells by how much the bits are not what they are said to be: it is the same all round.
  const { gap } = measuredOn(inlay.setup, chain.copy)
  const wider = gap === undefined ? 0 : gap - fit.tightest.gap
  const spread = gap === undefined ? fit.gapTolerance : Math.min(fit.gapTolerance, FEELER)
  return {
    tightest: gapFigure(fit.tightest, wider, spread),
    loosest: gapFigure(fit.loosest, wider, spread),
    gapBeneath: settled(fit.gapBeneath),
    proud: settled(inlay.proud),
    mirrored: fit.mirrored,
    gluedHeight: settled(Math.min(...glued)),
    pieces: fit.pieces.map(({ tightest, loosest, at, turned }, n) => ({
      tightest: tightest.gap + wider,
      loosest: loosest.gap + wider,
      at,
      turned,
      gluedHeight: settled(glued[n]),
    })),
    sawAt,
    plug: fit,
    movement: movementOf(chain, inlay, fit),
  }
}

/** Only where both blanks say their moisture. */
function movementOf({ sheet, blank }: Chain, { setup }: Inlay, fit: PlugFit): Movement | undefined {
  const { insert } = setup
  const made = insert.kind === 'plug' && sheet.setups.find(({ name }) => name === insert.plug)
  const plug = made && sheet.blanks.get(made.blank)
  return plug ? glueMovement(fit, blank, plug) : undefined
}

/** Whether all walls stand upright, so that the gap is the same over whatever heights are left. */
const isStraight = ({ plug, pocket }: FitInput) =>
  [...plug.bitOfState, ...pocket.bitOfState].every(bit => !bit || bit.shape === 'flat')

const gapFigure = ({ gap, at }: GapAt, wider: number, spread: number): Figure => figure(gap + wider, spread, { at })

interface HeightsLeft {
  readonly from?: number
  readonly to?: number
  /** Of the levelled face, blank frame, outwards positive. */
  readonly wood?: number
}

/** From the cavity's floor to the levelled face, frame of the blank as it lay for its pocket. */
function heightsLeft(chain: Chain, inlay: Inlay, { cavity, side }: Piece): HeightsLeft {
  // Outwards on the inlay's side and up in the pocket's lie are the same but for where they count from.
  const rise = inlay.side === 'top' ? 0 : chain.thickness
  const wood = woodRound(chain.final, inlay.region, inlay.side, BESIDE)
  const to = wood === undefined ? undefined : wood + rise
  if (!cavity || inlay.side === side) return { to, wood }
  const lowest = leastCell(chain, both(cavity, inlay.face), surfaceOf(chain.final, side))
  if (!lowest || lowest.value === EMPTY) return { to, wood }
  const floor = side === 'top' ? lowest.value : -lowest.value
  const from = inlay.side === 'top' ? floor : chain.thickness - floor
  return { from, to, wood }
}
