import { pointAsReceived } from '../../stock/lie.ts'
import { assign } from './assign.ts'
import { clearingOf } from './cleared.ts'
import { cutsOf } from './cuts.ts'
import { extentAsItLies, framesOf } from './frames.ts'
import type { FitInput } from './input.ts'
import type { Mate, Mating } from './mate.ts'
import { compareUnturned } from './mirror.ts'
import { pocketHollows, standingParts } from './pieces.ts'
import { reportPiece } from './report.ts'
import type { FitDoubt, FitOutcome, GapAt, PieceFit } from './result.ts'
import { settle } from './settle.ts'
import { tellPlug } from './tellPlug.ts'
import { MIRROR_PROOF, MIRROR_SLACK } from './tolerances.ts'

/**
 * How a plug sits in its pocket, from the toolpaths of both (contract, section 2: plug, seating, mirror): pure
 * geometry, good to 0.006 mm. Where the paths leave open what is plug and what waste, doubts come back and no fit.
 * Input as `FitInput` says; lengths mm, places in the frames of the blanks as received.
 */
export function fitPlug(input: FitInput): FitOutcome {
  const plug = clearingOf(cutsOf(input.plug))
  const pocket = clearingOf(cutsOf(input.pocket))
  const standing = standingParts(plug, input.plug.faceLevel, ...extentAsItLies(input.plug))
  const hollows = pocketHollows(pocket, input.pocket.faceLevel)
  if (!standing)
    return doubt('nothing-stands', 'The plug program leaves nothing standing that it cuts all the way round.')
  if (hollows.length === 0) return doubt('no-pocket', 'The pocket program clears nothing below the face.')
  const mating: Mating = { plug, standing, pocket, pocketFace: input.pocket.faceLevel, sawAt: input.sawAt }
  const told = tellPlug(input, mating, hollows)
  if (told.doubts.length > 0) return { fit: undefined, doubts: told.doubts }

  const settled = told.mates.map(mate => settle(mate, input.glueLine))
  const compared = compareUnturned(
    settled,
    () =>
      assign(
        mating,
        told.mates.map(mate => mate.part),
        hollows,
        false,
        input.glueLine,
      ).mates,
    input.glueLine,
  )
  const pieces = settled.map(one => reportPiece(input, one, framesOf(input.plug, input.pocket, standing, one)))
  const unturned = compared.unturned
  return {
    fit: {
      tightest: utmost(
        pieces.map(piece => piece.tightest),
        1,
      ),
      loosest: utmost(
        pieces.map(piece => piece.loosest),
        -1,
      ),
      tightestElsewhere: elsewhere(pieces),
      gapTolerance: input.bitDiameterTolerance,
      gapBeneath: Math.max(...pieces.map(piece => piece.gapBeneath)),
      mirrored: unturned === undefined || compared.over >= unturned - MIRROR_SLACK,
      tightestUnturned: unturned,
      tightestCompared: compared.over,
      notMirrored: unturned !== undefined && compared.over < 0 && unturned >= compared.over + MIRROR_PROOF,
      corners: pieces.flatMap(piece => piece.corners),
      pieces,
      carveDepth: standing.face - standing.base,
      empty: emptyHollows(input, told.mates, hollows),
    },
    doubts: [],
  }
}

function doubt(kind: FitDoubt['kind'], message: string): FitOutcome {
  return { fit: undefined, doubts: [{ kind, message, places: [] }] }
}

function utmost(gaps: readonly GapAt[], way: 1 | -1): GapAt {
  return gaps.reduce((best, one) => ((one.gap - best.gap) * way < 0 ? one : best))
}

function elsewhere(pieces: readonly PieceFit[]): GapAt | undefined {
  const gaps = pieces.flatMap(piece => (piece.tightestElsewhere ? [piece.tightestElsewhere] : []))
  return gaps.length > 0 ? utmost(gaps, 1) : undefined
}

function emptyHollows(
  { pocket }: FitInput,
  mates: readonly Mate[],
  hollows: ReturnType<typeof pocketHollows>,
): (readonly [number, number])[] {
  return hollows
    .filter(hollow => !mates.some(mate => mate.hollow === hollow))
    .map(({ centre: [x, y] }) => {
      const [bx, by] = pointAsReceived([x, y, 0], pocket.lie, pocket.size)
      return [bx, by] as const
    })
}
