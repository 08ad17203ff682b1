import { extentsOf } from '../../job/figures/extents.ts'
import { type Change, SAME } from './change.ts'
import { retold } from './retell.ts'
import { attempt, type Rewritten, type Source } from './source.ts'
import { verified } from './verify.ts'
import type { Triple } from './walk.ts'

/** Moves the path by so much, mm. */
export function shift(source: Source, by: Triple): Rewritten {
  return taken(source, { ...SAME, shift: by })
}

/** Turns the path over about an upright plane: `x` means that left and right change places about X = `at`, mm. */
export function mirror(source: Source, axis: 'x' | 'y', at: number): Rewritten {
  const scale: Triple = axis === 'x' ? [-1, 1, 1] : [1, -1, 1]
  return taken(source, { ...SAME, scale, shift: axis === 'x' ? [2 * at, 0, 0] : [0, 2 * at, 0] })
}

/** Turns the path by a quarter about a point, mm; to the left is counter-clockwise seen from above. */
export function quarterTurn(source: Source, way: 'left' | 'right', [x, y]: readonly [number, number]): Rewritten {
  const left = way === 'left'
  return taken(source, {
    axes: [1, 0, 2],
    scale: left ? [1, -1, 1] : [-1, 1, 1],
    shift: left ? [x + y, y - x, 0] : [x - y, y + x, 0],
  })
}

/** Makes the path larger or smaller about a point, mm; heights are scaled only where that is asked for. */
export function scale(source: Source, factor: number, [x, y, z]: Triple, heights: boolean): Rewritten {
  if (!(factor > 0 && Number.isFinite(factor))) return { why: 'A path is scaled by a number above 0.' }
  const back = 1 - factor
  return taken(source, {
    ...SAME,
    scale: [factor, factor, heights ? factor : 1],
    shift: [x * back, y * back, heights ? z * back : 0],
  })
}

/** Middle of what is cut in X and Y, program coordinates, mm: about which people mirror and turn unless they say where. */
export function middleOf({ program }: Source): readonly [number, number] | undefined {
  const { cut } = extentsOf(program)
  return cut && [(cut[0][0] + cut[1][0]) / 2, (cut[0][1] + cut[1][1]) / 2]
}

function taken(source: Source, change: Change): Rewritten {
  return attempt(() => ({ edits: verified(source, retold(source, { change }), change) }))
}
