import type { CopyOutcome, Run } from '../../job/outcome.ts'
import { pointAsReceived } from '../../stock/lie.ts'
import type { Stock } from '../../stock/stock.ts'
import { cellAt } from '../common/columns.ts'
import { fold, type Hit } from '../common/fold.ts'
import { bitOf } from '../common/inWood.ts'
import { drop, endOf, isFeed, isKnown, isUpright } from '../common/path.ts'
import { height, reachSentence } from '../common/wording.ts'
import { programHeight, wordOfMotion } from '../common/words.ts'
import type { JobRule } from '../rule.ts'
import { FLOOR_MARK, SAME_LEVEL } from '../tolerances.ts'

/**
 * Straight descents that end on a surface which is still there, and open to the eye, when the whole job is done. The
 * bottom of a hole no wider than the bit is no floor: there is nothing beside the mark to see it against.
 */
export const plungeOntoFloor: JobRule = {
  id: 'plunge/onto-floor',
  title: 'a straight descent ends on a surface that stays visible',
  severity: 'warning',
  fix: 'ramp',
  reads: 'job',
  check(_job, copy, report) {
    for (const { run } of copy.setups) {
      // What is left of a plug's blank is waste, and so is the skin under an outline.
      if (!run || run.setup.makes === 'plug' || run.setup.makes === 'outline') continue
      const { program } = run
      const { motions } = program
      const last = lastStock(copy, run)
      if (!last || !isTold(copy, run)) continue
      const hits: Hit[] = []
      for (let i = 0; i < motions.count; i++) {
        if (!isFeed(motions, i) || !isKnown(motions, i) || !isUpright(motions, i) || !(drop(motions, i) > 0)) continue
        if (!endsOnFloor(run, i, last)) continue
        hits.push({ motion: i, cause: String(Math.round(motions.z[i] / SAME_LEVEL)), badness: 0 })
      }
      for (const { first, reach } of fold(program, hits)) {
        report({
          at: { program: run.setup.program, span: wordOfMotion(program, first.motion, 'Z') },
          setup: run.setup.name,
          message: `This straight descent ends at ${height(programHeight(program, first.motion))}, on a surface that stays visible: the bit stands there for a moment and leaves a ring that has to be sanded out. Come down on a ramp or a helix, or beside it where the wood goes later.${reachSentence(reach)}`,
          found: programHeight(program, first.motion),
          reach,
        })
      }
    }
  },
}

/** The stock after the whole job, of the blank that the run is about. */
function lastStock(copy: CopyOutcome, run: Run): Stock | undefined {
  return copy.setups.findLast(({ setup }) => setup.blank === run.setup.blank)?.stock
}

/** Every bit that works on the blank of a run is known: of what stays nothing can be said where one is not. */
function isTold(copy: CopyOutcome, { setup }: Run): boolean {
  return copy.setups.every(({ run }) => {
    if (!run || run.setup.blank !== setup.blank) return true
    const { motions } = run.program
    for (let i = 0; i < motions.count; i++) if (isFeed(motions, i) && !bitOf(run, i)) return false
    return true
  })
}

/** Both the place of the tip and one just outside the bit's edge are that surface. */
function endsOnFloor(run: Run, motion: number, last: Stock): boolean {
  const [x, y, z] = endOf(run.program.motions, motion)
  const [px, py, pz] = [x + run.shift[0], y + run.shift[1], z + run.shift[2]]
  if (!isSurface(run, last, px, py, pz)) return false
  const radius = (bitOf(run, motion)?.diameter ?? 0) / 2 + 1.5 * last.grid.cell
  for (let k = 0; k < 8; k++) {
    const angle = (k * Math.PI) / 4
    if (isSurface(run, last, px + radius * Math.cos(angle), py + radius * Math.sin(angle), pz)) return true
  }
  return false
}

/** The finished piece has its visible surface at that point (as the blank lies in the run). */
function isSurface(run: Run, last: Stock, x: number, y: number, z: number): boolean {
  const size = { width: run.blank.width, depth: run.blank.depth, thickness: run.thickness }
  const [bx, by, bz] = pointAsReceived([x, y, z], run.setup.lie, size)
  const cell = cellAt(last, bx, by)
  if (cell === undefined) return false
  const solid = last.layers.filter(layer => layer.hi[cell] > layer.lo[cell])
  if (solid.length === 0) return false
  const surface = run.setup.lie.face === 'top' ? solid[0].hi[cell] : solid[solid.length - 1].lo[cell]
  return Math.abs(surface - bz) <= FLOOR_MARK
}
