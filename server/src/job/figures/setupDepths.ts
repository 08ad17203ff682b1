import { EMPTY, newStock } from '../../stock/stock.ts'
import type { History, Inlay, Step } from '../chain.ts'
import { thicknessOf } from '../measured.ts'
import type { CopyOutcome, Figure } from '../outcome.ts'
import { lowered, type Mask, outOf, type Side, solidsOf, surfaceOf } from '../regions.ts'
import type { Sheet } from '../sheet.ts'
import { apart, figure, makerAt, originOf } from './origin.ts'
import { leastCell } from './piece.ts'

/** What a caliper can be held to once a set-up has run, with the worst that the declared tolerances can do. mm. */
export interface SetupDepths {
  /** From the face that still stands to the deepest place that has a bottom. */
  readonly depth?: Figure
  /** Wood and inlay left where least is left, of what is not cut through; in an outline, where most of it is as thick. */
  readonly left?: Figure
  /** Thickness of the whole, where the set-up took off the face all over. */
  readonly thickness?: Figure
  /** Somewhere nothing is left. */
  readonly through: boolean
}

/** Height that may be missing from a face that was not cut, mm: single precision. */
const STANDS = 1e-3

/**
 * The depths of a set-up that ran a program on a copy; undefined where it ran none or took nothing. Sanding, which comes
 * later, is not counted: these are what the wood measures fresh from the machine.
 */
export function setupDepths(sheet: Sheet, copy: CopyOutcome, index: number): SetupDepths | undefined {
  const history = historyOf(sheet, copy, index)
  const step = history?.steps.at(-1)
  if (!history || !step?.run) return undefined
  const side = step.run.setup.lie.face
  const { before, after } = step
  const mask = lowered(before, after, side)
  if (!mask.includes(1)) return undefined
  const surface = surfaceOf(after, side)
  const kept = mask.map((taken, k) => (taken && surface[k] > EMPTY ? 1 : 0))
  const through = mask.some((taken, k) => taken === 1 && kept[k] === 0)
  const measured = { final: after }
  const face = faceCell(before, after, side)
  const deepest = leastCell(measured, kept, surface)
  const thinnest =
    step.run.setup.makes === 'outline' ? skinCell(after, kept) : leastCell(measured, kept, solidsOf(after))
  const thickest =
    face === undefined
      ? leastCell(
          measured,
          kept,
          solidsOf(after).map(solid => -solid),
        )
      : undefined
  return {
    depth:
      face !== undefined && deepest
        ? figure(outOf(after, face, side) - deepest.value, apartOn(history, side, face, side, deepest.cell), {})
        : undefined,
    left: thinnest && figure(thinnest.value, acrossAt(history, thinnest.cell), { at: thinnest.at }),
    thickness: thickest && figure(-thickest.value, acrossAt(history, thickest.cell), {}),
    through,
  }
}

/** A cell of the face that the set-up found and left standing; undefined where it took it off all over. */
function faceCell(before: Step['before'], after: Step['after'], side: Side): number | undefined {
  const cells = before.grid.nx * before.grid.ny
  let face = Number.NEGATIVE_INFINITY
  for (let k = 0; k < cells; k++) if (woodOut(before, k, side)) face = Math.max(face, outOf(before, k, side))
  for (let k = 0; k < cells; k++) if (woodOut(after, k, side) && outOf(after, k, side) > face - STANDS) return k
  return undefined
}

/** Of what an outline leaves in its groove, a cell of the thickness that most has: tabs or skin, not their ragged ends. */
function skinCell(after: Step['after'], kept: Mask): ReturnType<typeof leastCell> {
  const area = new Map<number, number>()
  const solid = solidsOf(after)
  const level = (k: number) => Math.round(solid[k] * 100)
  for (let k = 0; k < kept.length; k++) if (kept[k]) area.set(level(k), (area.get(level(k)) ?? 0) + 1)
  const [most] = [...area].reduce((a, b) => (b[1] > a[1] ? b : a), [Number.NaN, 0])
  return leastCell(
    { final: after },
    kept,
    solid.map((height, k) => (level(k) === most ? height : Number.NaN)),
  )
}

/** Whether a column's surface on a side is the blank's own wood. */
function woodOut({ layers }: Step['before'], k: number, side: Side): boolean {
  if (side === 'top') return layers[0].material[k] === 0
  let material = 0
  for (const layer of layers) if (layer.hi[k] > -1e8) material = layer.material[k]
  return material === 0
}

const acrossAt = (history: History, cell: number) => apartOn(history, 'top', cell, 'underside', cell)

function apartOn(history: History, side: Side, cell: number, otherSide: Side, other: number): number {
  const origin = (k: number, of: Side) => originOf(history, makerAt(history, k, of), of)
  return apart(origin(cell, side), origin(other, otherSide), history)
}

/** All that was done to a copy's blank up to a set-up, blank frame. */
function historyOf(sheet: Sheet, copy: CopyOutcome, index: number): History | undefined {
  const done = copy.setups.findIndex(({ setup }) => setup.index === index)
  const blank = done < 0 ? undefined : sheet.blanks.get(copy.setups[done].setup.blank)
  if (!blank) return undefined
  const { thickness, within } = thicknessOf(sheet, blank, copy.copy)
  const own = copy.setups.slice(0, done + 1).filter(({ setup }) => setup.blank === blank.name)
  const { cell } = own[0].stock.grid
  const { width, depth, diameter } = blank
  let before = newStock({ width, depth, thickness, diameter }, cell)
  const steps: Step[] = []
  const inlays: Pick<Inlay, 'setup' | 'pocket'>[] = []
  for (const { setup, run, stock } of own) {
    steps.push({ setup, run, before, after: stock })
    before = stock
    if (setup.kind !== 'insert') continue
    const pocket = own.find(({ setup: { name } }) => name === setup.into)?.run
    if (pocket) inlays.push({ setup, pocket })
  }
  return { sheet, blank, thickness, thicknessWithin: within, steps, inlays }
}
