import type { CarvedFace, FitInput } from './input.ts'
import type { FitOutcome, PieceFit } from './result.ts'

/**
 * A fit depends on how far below its face the pocket is cut, not on how thick the blank is: the same input with the
 * pocket's face at height 0. Copies of a blank that are cut alike then ask for one fit between them.
 */
export function fromTheFace(input: FitInput): FitInput {
  const { pocket } = input
  const [x, y, z] = pocket.shift
  const shift = [x, y, settled(z - pocket.faceLevel)] as const
  const left = input.left && {
    from: input.left.from === undefined ? undefined : input.left.from - pocket.faceLevel,
    to: input.left.to === undefined ? undefined : input.left.to - pocket.faceLevel,
  }
  return { ...input, left, pocket: { ...pocket, shift, faceLevel: 0, size: { ...pocket.size, thickness: 0 } } }
}

/** What `fitPlug` said of such an input, with its heights in the frame of the pocket's own blank again. */
export function inBlankFrame(outcome: FitOutcome, pocket: CarvedFace): FitOutcome {
  if (!outcome.fit) return outcome
  const { lie, size, faceLevel } = pocket
  const up = lie.face === 'top' ? faceLevel : size.thickness - faceLevel
  const lifted = (piece: PieceFit): PieceFit => ({
    ...piece,
    buriedFace: piece.buriedFace + up,
    walls: piece.walls.map(wall => ({ ...wall, z: wall.z + up })),
    gapLines: piece.gapLines.map(line => ({ ...line, z: line.z + up })),
    seating: { ...piece.seating, lift: piece.seating.lift - piece.seating.rise * up },
  })
  return { fit: { ...outcome.fit, pieces: outcome.fit.pieces.map(lifted) }, doubts: [] }
}

/** Rounding of heights that were added and taken off again must not tell two copies apart: to a millionth of a mm. */
const settled = (height: number) => Math.round(height * 1e6) / 1e6
