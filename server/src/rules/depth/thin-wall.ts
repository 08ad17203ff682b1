import { limitPlace, nearestCut, runsThatMake, sumSentence, underLimit } from '../common/figureRule.ts'
import { mm } from '../common/wording.ts'
import { wordOfMotion } from '../common/words.ts'
import type { JobRule } from '../rule.ts'

export const depthThinWall: JobRule = {
  id: 'depth/thin-wall',
  title: 'the wall beside the cavity comes out too thin',
  severity: 'error',
  reads: 'job',
  check(job, copy, report) {
    const { wall } = copy.figures
    const limit = job.sheet.limits.wall
    const broken = wall && underLimit(wall, limit)
    if (!wall || !broken) return
    // The outline is cut last and can still be moved; without one it is the cavity against the blank's edge.
    const run = [...runsThatMake(copy, 'outline'), ...runsThatMake(copy, 'cavity')][0]
    const motion = run && wall.at && nearestCut(run, wall.at)
    const nominal =
      wall.nominal <= 0
        ? `The cavity runs out through the side of the piece (limit ${mm(limit)}).`
        : `The wall between the cavity and the outside comes out ${mm(wall.nominal)} thick; the limit is ${mm(limit)}. It will break under the bit, the trimming or the hand.`
    report({
      at:
        run && motion !== undefined
          ? { program: run.setup.program, span: wordOfMotion(run.program, motion, 'XYIJR') }
          : { field: ['limits', 'wall'] },
      setup: run?.setup.name,
      message:
        broken === 'nominal'
          ? `${nominal}${sumSentence(wall)}`
          : `The wall comes out ${mm(wall.nominal)} thick if all goes as written, but only ${mm(wall.least)} if clamping anew and sanding are all off the wrong way; the limit is ${mm(limit)}.${sumSentence(wall)}`,
      found: broken === 'nominal' ? wall.nominal : wall.least,
      limit,
      severity: broken === 'nominal' ? undefined : 'information',
      related: limitPlace(job, 'wall'),
    })
  },
}
