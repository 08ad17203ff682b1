import { pointAsItLies, pointAsReceived } from '../../stock/lie.ts'
import type { CarvedFace } from './input.ts'
import { mapped } from './loops.ts'
import type { Standing } from './pieces.ts'
import type { GapAt, Outline, SeatingTransform } from './result.ts'
import { fromPlug, toPlug } from './seat.ts'
import type { Settled } from './settle.ts'

/** Extent across and away of a blank as it lies, mm. */
export function extentAsItLies({ lie, size }: CarvedFace): [width: number, depth: number] {
  return lie.spin === 90 || lie.spin === 270 ? [size.depth, size.width] : [size.width, size.depth]
}

/** The frames of one seated piece: where the places of its mate lie on the two blanks. Lengths mm. */
export interface Frames {
  /** A place of the hollow's frame, in the frame of the pocket's blank. */
  place(x: number, y: number): [number, number]
  gapAt(found: { readonly gap: number; readonly x: number; readonly y: number }): GapAt
  /** Outlines of the hollow's frame in that of its blank, what bounded to the left still to the left. */
  pocketOutline(outline: Outline): Outline
  /** Outlines of the plug's frame likewise, where the plug sits. */
  plugOutline(outline: Outline): Outline
  /** A height over the buried face, in the frame of the pocket's blank. */
  height(over: number): number
  /** A place of the plug's frame, in the frame of the plug's own blank. */
  ownPlace(x: number, y: number): [number, number]
  readonly seating: SeatingTransform
}

export function framesOf(plug: CarvedFace, pocket: CarvedFace, standing: Standing, settled: Settled): Frames {
  const { mate, pose, lift } = settled
  const { hollow, part, over } = mate
  const buried = hollow.floor + lift
  const place = (x: number, y: number): [number, number] => {
    const [bx, by] = pointAsReceived([x + hollow.centre[0], y + hollow.centre[1], 0], pocket.lie, pocket.size)
    return [bx, by]
  }
  const height = (above: number) => pointAsReceived([0, 0, buried + above], pocket.lie, pocket.size)[2]
  const ownPlace = (x: number, y: number): [number, number] => {
    const [cx, cy] = part.centre
    const [bx, by] = pointAsReceived([over ? cx - x : cx + x, cy + y, 0], plug.lie, plug.size)
    return [bx, by]
  }
  const toOwn = (bx: number, by: number): [number, number] => {
    const [x, y] = pointAsItLies([bx, by, 0], pocket.lie, pocket.size)
    return ownPlace(...toPlug(pose, x - hollow.centre[0], y - hollow.centre[1]))
  }
  const mirrors = pocket.lie.face === 'underside'
  return {
    place,
    height,
    ownPlace,
    gapAt: ({ gap, x, y }) => ({ gap, at: place(x, y) }),
    pocketOutline: outline => mapped(outline, mirrors, place),
    plugOutline: outline => mapped(outline, mirrors, (x, y) => place(...fromPlug(pose, x, y))),
    seating: transformOf(toOwn, z => {
      const [, , lying] = pointAsItLies([0, 0, z], pocket.lie, pocket.size)
      return pointAsReceived([0, 0, standing.face - (lying - buried)], plug.lie, plug.size)[2]
    }),
  }
}

function transformOf(to: (x: number, y: number) => [number, number], up: (z: number) => number): SeatingTransform {
  const [e, f] = to(0, 0)
  const [ae, cf] = to(1, 0)
  const [be, df] = to(0, 1)
  const lift = up(0)
  return { a: ae - e, b: be - e, c: cf - f, d: df - f, e, f, rise: up(1) > lift ? 1 : -1, lift }
}
