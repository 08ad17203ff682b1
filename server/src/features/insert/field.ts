import { extentsOf } from '../../job/figures/extents.ts'
import type { Run } from '../../job/outcome.ts'
import type { Sheet } from '../../job/sheet.ts'
import type { Bit } from '../../stock/bit.ts'
import { pointAsItLies, pointAsReceived } from '../../stock/lie.ts'

/** How far bit and collet stay off a clamp, mm. */
const OFF_CLAMP = 2

/**
 * Half the sizes of the largest field about the middle of the blank that lies within the piece that other set-ups cut
 * out of it, and in which bit and collet keep clear of the clamps of this one; frame of the stock as it lies, mm.
 */
export function fieldOf(run: Run, others: readonly Run[], sheet: Sheet, bit: Bit): { a: number; b: number } {
  const { width, depth } = run.before.grid
  let a = width / 2
  let b = depth / 2
  for (const other of others) {
    if (other.setup.makes !== 'outline' || other.setup.blank !== run.setup.blank || other.copy !== run.copy) continue
    const piece = pieceOf(other, run)
    if (!piece) continue
    a = Math.min(a, ...piece.x.map(x => Math.abs(x - width / 2)))
    b = Math.min(b, ...piece.y.map(y => Math.abs(y - depth / 2)))
  }
  const reach = Math.max(bit.diameter, bit.colletDiameter) / 2 + OFF_CLAMP - bit.diameter / 2
  for (const { setup, box } of sheet.keepOut) {
    if (setup !== run.setup.name) continue
    // The way round that costs least: in X or in Y.
    const x = Math.min(...[box[0][0], box[1][0]].map(at => Math.abs(at - width / 2))) - reach
    const y = Math.min(...[box[0][1], box[1][1]].map(at => Math.abs(at - depth / 2))) - reach
    const overX = box[0][0] < width / 2 && box[1][0] > width / 2
    const overY = box[0][1] < depth / 2 && box[1][1] > depth / 2
    if (overY || (!overX && x / a >= y / b)) a = Math.min(a, x)
    else b = Math.min(b, y)
  }
  return { a: Math.max(0, a), b: Math.max(0, b) }
}

/** The box of the piece that an outline leaves, in the frame in which another run's stock lies. */
function pieceOf(outline: Run, run: Run): { x: [number, number]; y: [number, number] } | undefined {
  const { cut } = extentsOf(outline.program)
  const bits = outline.bitOfState.flatMap(bit => bit?.diameter ?? [])
  if (!cut || bits.length === 0 || !cut.flat().every(Number.isFinite)) return undefined
  // A groove may be cut wider than the bit: the piece begins a whole bit inside it.
  const inside = Math.max(...bits)
  const { width, depth } = outline.blank
  const size = { width, depth, thickness: outline.thickness }
  const corners = [cut[0], cut[1]].map((corner, n) => {
    const side = n === 0 ? inside : -inside
    const lying = corner.map((value, axis) => value + outline.shift[axis]) as [number, number, number]
    const point = pointAsReceived([lying[0] + side, lying[1] + side, lying[2]], outline.setup.lie, size)
    return pointAsItLies(point, run.setup.lie, size)
  })
  return { x: [corners[0][0], corners[1][0]], y: [corners[0][1], corners[1][1]] }
}
