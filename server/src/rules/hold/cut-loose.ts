import type { Run } from '../../job/outcome.ts'
import { piecesOf } from '../../stock/pieces.ts'
import { EMPTY } from '../../stock/stock.ts'
import { bitOf, feedCuts } from '../common/inWood.ts'
import { number } from '../common/wording.ts'
import { levelWord } from '../common/words.ts'
import type { RunRule } from '../rule.ts'
import { FLOOR_MARK } from '../tolerances.ts'

export const holdCutLoose: RunRule = {
  id: 'hold/cut-loose',
  title: 'a piece is cut loose and nothing holds it',
  severity: 'error',
  reads: 'run',
  check(run, _sheet, report) {
    if (run.setup.held || !cutsThrough(run)) return
    const motion = lastCutThrough(run)
    const bit = motion === undefined ? undefined : bitOf(run, motion)
    if (motion === undefined || !bit) return
    const loose = loosened(run).filter(piece => {
      const [x, y] = [0, 1].map(axis => piece.box[1][axis] - piece.box[0][axis])
      return Math.min(x, y) > bit.diameter && piece.area > (Math.PI / 4) * bit.diameter ** 2
    })
    const largest = loose[0]
    if (!largest) return
    const [width, depth] = [0, 1].map(axis => number(largest.box[1][axis] - largest.box[0][axis], 0))
    const more = loose.length > 1 ? ` ${loose.length} pieces come loose; this is the largest.` : ''
    report({
      at: levelWord(run.program, motion),
      message: `With this cut a piece of ${width} x ${depth} mm hangs on nothing while the bit still turns beside it: it is caught and thrown, or spoiled. Leave tabs or a skin, or say in the set-up what holds it ("held").${more}`,
      found: largest.area,
      limit: 0,
      related: [
        {
          place: { field: ['setups', run.setup.index] },
          message: `${run.setup.name}: nothing is said to hold the piece`,
        },
      ],
    })
  },
}

/** Some column that had wood has none left. */
function cutsThrough({ before, after }: Run): boolean {
  const was = before.layers[0].hi
  const is = after.layers[0].hi
  for (let k = 0; k < was.length; k++) if (is[k] === EMPTY && was[k] !== EMPTY) return true
  return false
}

/** The last cut at the downward face: by then the ring is closed. */
function lastCutThrough(run: Run): number | undefined {
  const { motions } = run.program
  for (let i = motions.count - 1; i >= 0; i--) {
    if (feedCuts(run, i) && run.engagement.lowest[i] <= run.bedLevel + FLOOR_MARK) return i
  }
  return undefined
}

/** Pieces off the border that were part of something that reached it before, largest first. */
function loosened(run: Run) {
  const after = piecesOf(run.after, run.blank.diameter)
  if (after.pieces.every(piece => piece.atBorder)) return []
  const before = piecesOf(run.before, run.blank.diameter)
  const was = new Map<number, number>()
  after.labels.forEach((labels, layer) => {
    for (let k = 0; k < labels.length; k++) {
      // Columns that this run left alone keep their layers, so the same interval had that piece before.
      if (labels[k] < 0 || was.has(labels[k])) continue
      const label = before.labels[layer]?.[k] ?? -1
      if (label >= 0) was.set(labels[k], label)
    }
  })
  return after.pieces.filter((piece, index) => {
    const label = was.get(index)
    return !piece.atBorder && label !== undefined && before.pieces[label].atBorder
  })
}
