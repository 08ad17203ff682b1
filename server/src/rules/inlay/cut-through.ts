import type { CopyOutcome } from '../../job/outcome.ts'
import { depthPlace, limitPlace, notMirrored, runsThatMake, sumSentence } from '../common/figureRule.ts'
import type { JobRule } from '../rule.ts'
import { MAP_ROUNDING } from '../tolerances.ts'

export const inlayCutThrough: JobRule = {
  id: 'inlay/cut-through',
  title: 'the inlay is cut away altogether',
  severity: 'error',
  reads: 'job',
  check(job, copy, report) {
    const { inlayLeft } = copy.figures
    // Where the cavity is cut from the side that the inlay was set in from, it never shows in it, and no figure says so.
    if (!inlayLeft && copy.figures.floor && isBeneathCavity(copy) && isGone(copy) && !notMirrored(copy)) {
      report({
        ...depthPlace(copy, 'cavity', undefined, ['limits', 'inlayLeft']),
        message:
          'Nothing of the inlay is left in the finished piece: the cavity lies on the side that it was set in from, and takes all of it. Is the right face up?',
        found: 0,
        limit: job.sheet.limits.inlayLeft,
        related: limitPlace(job, 'inlayLeft'),
      })
      return
    }
    if (!inlayLeft || notMirrored(copy) || inlayLeft.nominal > MAP_ROUNDING) return
    report({
      ...depthPlace(copy, 'cavity', inlayLeft.at, ['limits', 'inlayLeft']),
      message: `Nothing of the inlay is left at its thinnest place: the cavity goes through it, and the motif has a hole.${sumSentence(inlayLeft)}`,
      found: inlayLeft.nominal,
      limit: job.sheet.limits.inlayLeft,
      related: limitPlace(job, 'inlayLeft'),
    })
  },
}

/** A cavity is cut from the face that an inlay was set into. */
function isBeneathCavity(copy: CopyOutcome): boolean {
  const faces = runsThatMake(copy, 'cavity').map(run => run.setup.lie.face)
  return runsThatMake(copy, 'pocket').some(run => faces.includes(run.setup.lie.face))
}

/** Inlays were set in, and not a crumb of any is left where they were. */
function isGone({ inserts, setups }: CopyOutcome): boolean {
  if (inserts.length === 0) return false
  return inserts.every(({ setup, cells, lo, hi }, index) => {
    const stock = setups.findLast(other => other.setup.blank === setup.blank)?.stock
    if (!stock || cells.length === 0) return false
    for (const [k, cell] of cells.entries())
      for (const layer of stock.layers)
        if (
          layer.material[cell] === index + 1 &&
          Math.min(layer.hi[cell], hi[k]) - Math.max(layer.lo[cell], lo[k]) > MAP_ROUNDING
        )
          return false
    return true
  })
}
