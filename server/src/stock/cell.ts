import type { Bit } from './bit.ts'
import { MOST_CELLS } from './stock.ts'

/** Coarsest cell for a blank up to `ORDINARY` mm, mm. */
const COARSEST = 0.25
const ORDINARY = 300
/** Finest: less gains nothing on wood that moves by more with every change of the weather. */
const FINEST = 0.05
/** Cells that are always affordable: 300 x 300 mm at 0.1 mm. */
const EASY_CELLS = 9_000_000
/** Beyond this the model says too little to be worth a finding, mm. */
const USELESS = 5

export type CellChoice =
  | {
      readonly cell: number
      /** In plain words, where the cell is coarser than the work asks for. */
      readonly message?: string
    }
  | { readonly refused: string }

/**
 * The side of a cell for a blank (mm): a tenth of the smallest radius that shapes the work, at most 0.25 mm for a
 * blank up to 300 mm, coarser only where memory asks for it. The cell divides width and depth, as nearly as may be,
 * so that a blank turned over meets its own cells again.
 */
export function cellFor(
  blank: { readonly width: number; readonly depth: number },
  bits: Iterable<Pick<Bit, 'shape' | 'diameter' | 'cornerRadius' | 'tipDiameter'>>,
): CellChoice {
  const { width, depth } = blank
  if (!(width > 0 && depth > 0 && Number.isFinite(width) && Number.isFinite(depth))) {
    return { refused: `The blank's size is ${width} x ${depth} mm, which is no size; the wood cannot be modelled.` }
  }
  let wanted = COARSEST * Math.max(1, Math.max(width, depth) / ORDINARY)
  for (const bit of bits) {
    const radius = bit.shape === 'bowl' ? bit.cornerRadius : bit.diameter / 2
    if (radius > 0) wanted = Math.min(wanted, Math.max(FINEST, radius / 10))
  }
  // A tenth of the least radius first; then as memory allows.
  const affordable = Math.sqrt((width * depth) / EASY_CELLS)
  const cell = Math.max(wanted, affordable)
  if (cell > USELESS || (width * depth) / (cell * cell) > MOST_CELLS) {
    return { refused: `A blank of ${width} x ${depth} mm is too large to be modelled; check its size and its units.` }
  }
  const fitted = dividing(width, depth, cell)
  if (fitted <= wanted * 1.001 || affordable <= COARSEST) return { cell: fitted }
  return {
    cell: fitted,
    message: `A blank of ${width} x ${depth} mm is modelled in cells of ${fitted.toFixed(2)} mm: ribs and grooves narrower than that may be missed.`,
  }
}

/** The cell of at most the size wanted (and at least 0.85 of it) that divides both sides best. */
function dividing(width: number, depth: number, cell: number): number {
  let best = cell
  let least = Number.POSITIVE_INFINITY
  const first = Math.ceil(width / cell - 1e-9)
  const last = Math.max(first, Math.floor(width / (cell * 0.85)))
  for (let n = first; n <= last; n++) {
    const rows = (depth * n) / width
    const rest = Math.abs(rows - Math.round(rows))
    // Nearly as good is not worth a finer cell.
    if (rest < least - 1e-4) {
      least = rest
      best = width / n
    }
  }
  return best
}
