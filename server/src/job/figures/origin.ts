import { pointAsReceived } from '../../stock/lie.ts'
import { highest, lowest } from '../../stock/measure.ts'
import type { Stock } from '../../stock/stock.ts'
import type { History, Step } from '../chain.ts'
import { cellAt } from '../columns.ts'
import { measuredOn } from '../measured.ts'
import type { Figure, Run } from '../outcome.ts'
import { sameLie } from '../reading/crossCheck.ts'
import { outOf, type Side } from '../regions.ts'

/** Heights that differ by less than this are one surface, mm. */
const SAME = 1e-3

/**
 * Where a height comes from: the received face that it was measured from in the end, and every uncertain step on the
 * way, by name, with its +/- in mm. Steps that two heights share do not part them.
 */
export interface Origin {
  readonly root: Side
  readonly terms: ReadonlyMap<string, number>
}

/** The contract's chain: how far apart two heights may be from what they are nominally, +/- mm. */
export function apart(a: Origin, b: Origin, { thicknessWithin }: History): number {
  let sum = a.root === b.root ? 0 : thicknessWithin
  for (const [name, term] of a.terms) if (!b.terms.has(name)) sum += term
  for (const [name, term] of b.terms) if (!a.terms.has(name)) sum += term
  return sum
}

/**
 * Heights come out of the stock in single precision, a few millionths of a mm off: rounded to a ten-thousandth, so that
 * a floor of exactly the limit is not under it.
 */
export const settled = (value: number) => Math.round(value * 1e4) / 1e4

/** A figure with its worst case; `sanding` comes off the least alone. */
export function figure(
  nominal: number,
  spread: number,
  more: Omit<Figure, 'nominal' | 'least' | 'most'>,
  sanding = 0,
): Figure {
  return {
    nominal: settled(nominal),
    least: settled(nominal - spread - sanding),
    most: settled(nominal + spread),
    ...more,
  }
}

/** The last step that moved a column's surface on a side; -1 where it is as received. */
export function makerAt({ steps }: History, cell: number, side: Side, before = steps.length): number {
  for (let j = before - 1; j >= 0; j--) {
    const was = outOf(steps[j].before, cell, side)
    const is = outOf(steps[j].after, cell, side)
    if (was !== is && Math.abs(was - is) > SAME) return j
  }
  return -1
}

/** The origin of the surface that a step left on a side (-1: the received face). */
export function originOf(chain: History, maker: number, side: Side): Origin {
  const step = chain.steps[maker]
  if (!step) return { root: side, terms: new Map() }
  if (step.run) return zeroOf(chain, maker, step.run)
  if (step.setup.kind === 'saw') {
    const other = step.setup.face === 'top' ? 'underside' : 'top'
    return originOf(chain, extremeMaker(chain, maker, other, true), other)
  }
  const inlay = chain.inlays.find(({ setup }) => setup === step.setup)
  if (inlay) return pocketOrigin(chain, inlay.pocket)
  return originOf(chain, extremeMaker(chain, maker, side, true), side)
}

/** The origin of the bottom of a pocket, and so of the buried face in it. */
export function pocketOrigin(chain: History, pocket: Run): Origin {
  const index = chain.steps.findIndex(({ run }) => run?.setup === pocket.setup)
  return zeroOf(chain, index, pocket)
}

/** The origin of a set-up's Z0. */
function zeroOf(chain: History, index: number, run: Run): Origin {
  const { zero, lie } = run.setup
  const { tolerances } = chain.sheet
  const up = lie.face
  const down = up === 'top' ? 'underside' : 'top'
  const { depth, thickness } = measuredOn(run.setup, run.copy)
  const found = [`measured ${index}`, tolerances.measured] as const
  // What was measured after it tells better where the set-up cut than its zero does.
  if (run.setup.makes === 'level' && thickness !== undefined) {
    return onto(originOf(chain, extremeMaker(chain, index, down, true), down), found)
  }
  if (depth !== undefined) return onto(originOf(chain, extremeMaker(chain, index, up, true), up), found)
  if (zero.z === 'kept' && !zero.touch) {
    const kept = chain.steps.slice(0, index).findLastIndex(step => step.run && sameLie(step.run.setup, run.setup))
    const step = chain.steps[kept]
    if (step?.run) return zeroOf(chain, kept, step.run)
  }
  if (zero.touch) {
    const cell = touchedCell(chain, run, zero.touch)
    const maker = cell === undefined ? -1 : makerAt(chain, cell, up, index)
    return onto(
      originOf(chain, maker, up),
      [`zero ${index}`, tolerances.zero],
      [`flatness ${index}`, tolerances.flatness],
    )
  }
  if (zero.z === 'bed') return bedOrigin(chain, index, up)
  const base = originOf(chain, extremeMaker(chain, index, up, true), up)
  return onto(base, [`zero ${index}`, tolerances.zero], [`flatness ${index}`, tolerances.flatness])
}

/** The origin of a Z0 taken on the table while the blank lies with a face up. */
function bedOrigin(chain: History, index: number, up: Side): Origin {
  const { tolerances } = chain.sheet
  const down = up === 'top' ? 'underside' : 'top'
  const base = originOf(chain, extremeMaker(chain, index, down, false), down)
  return onto(base, [`zero ${index}`, tolerances.zero], [`bed ${index}`, tolerances.bed])
}

/** The origin that a set-up's heights would have if it were zeroed on the table; undefined where it is, or runs no program. */
export function zeroedOnBed(chain: History, index: number): Origin | undefined {
  const setup = chain.steps[index]?.run?.setup
  if (!setup || (setup.zero.z === 'bed' && !setup.zero.touch)) return undefined
  return bedOrigin(chain, index, setup.lie.face)
}

function onto(base: Origin, ...more: readonly (readonly [string, number])[]): Origin {
  return { root: base.root, terms: new Map([...base.terms, ...more]) }
}

function touchedCell({ blank, thickness, steps }: History, { setup }: Run, [x, y]: readonly [number, number]) {
  const size = { width: blank.width, depth: blank.depth, thickness }
  const [bx, by] = pointAsReceived([x, y, 0], setup.lie, size)
  return cellAt(steps[0].before.grid, bx, by)
}

/** The last step before `index` that moved the outermost point of a side: of the wood alone, or of anything. */
function extremeMaker({ steps }: History, index: number, side: Side, woodOnly: boolean): number {
  for (let j = index - 1; j >= 0; j--) {
    const { before, after } = steps[j] as Step
    if (before === after) continue
    if (Math.abs(extreme(before, side, woodOnly) - extreme(after, side, woodOnly)) > SAME) return j
  }
  return -1
}

function extreme(stock: Stock, side: Side, woodOnly: boolean): number {
  const material = woodOnly ? 0 : undefined
  return side === 'top' ? highest(stock, material) : -lowest(stock, material)
}
