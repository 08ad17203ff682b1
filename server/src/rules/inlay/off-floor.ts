import { nearestCut, notMirrored, runsThatMake } from '../common/figureRule.ts'
import { whereSentence } from '../common/inlay.ts'
import { number } from '../common/wording.ts'
import { wordOfMotion } from '../common/words.ts'
import type { JobRule } from '../rule.ts'

export const inlayOffFloor: JobRule = {
  id: 'inlay/off-floor',
  title: "part of the motif lies in the cavity's corner or wall",
  severity: 'warning',
  reads: 'job',
  check(job, copy, report) {
    const off = copy.figures.reveal?.offFloor
    if (!off || notMirrored(copy)) return
    const run = runsThatMake(copy, 'cavity')[0]
    const motion = run && nearestCut(run, off.at)
    const { register } = job.sheet.tolerances
    report({
      at:
        run && motion !== undefined
          ? { program: run.setup.program, span: wordOfMotion(run.program, motion, 'XYIJR') }
          : { field: ['limits', 'reveal'] },
      setup: run?.setup.name,
      message: `${number(off.area, 1)} mm² of the motif lie where the cavity's floor turns up into its wall, ${number(register, 2)} mm of clamping anew counted; farthest up ${whereSentence(off.at)}. ${off.shows ? 'It still shows, but bent upwards.' : 'Part of it stays hidden.'} Move the motif inwards, or the cavity's wall outwards.`,
      found: off.area,
      limit: 0,
      severity: off.shows ? 'information' : undefined,
      related: [
        { place: { field: ['tolerances', 'register'] }, message: 'how well the blank comes back to its place' },
      ],
    })
  },
}
