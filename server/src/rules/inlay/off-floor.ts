import type { CopyOutcome } from '../../job/outcome.ts'
import { nearestCut, notMirrored, runsThatMake } from '../common/figureRule.ts'
import { whereSentence } from '../common/inlay.ts'
import { number } from '../common/wording.ts'
import { wordOfMotion } from '../common/words.ts'
import type { JobRule, Reporter } from '../rule.ts'

export const inlayOffFloor: JobRule = {
  id: 'inlay/off-floor',
  title: "part of the motif lies in the cavity's corner or wall",
  severity: 'warning',
  reads: 'job',
  check(job, copy, report) {
    if (liesBeside(copy)) return besideCavity(copy, report)
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

/** There is a cavity and an inlay from the other side, and none of the one lies under the other. */
function liesBeside({ figures, inserts, setups }: CopyOutcome): boolean {
  if (!figures.floor || figures.reveal || figures.inlayLeft || inserts.length === 0) return false
  const faceOf = (makes: string) =>
    setups.flatMap(({ run }) => (run?.setup.makes === makes ? [run.setup.lie.face] : []))
  const cavities = faceOf('cavity')
  return !faceOf('pocket').some(face => cavities.includes(face))
}

/** It may be meant for the other face alone; a plug whose middle lies outside its blank is meant for nothing. */
function besideCavity(copy: CopyOutcome, report: Reporter): void {
  const pocket = runsThatMake(copy, 'pocket')[0]
  if (!pocket || notMirrored(copy)) return
  const { name, index } = pocket.setup
  const { width, depth } = pocket.blank
  const outside = copy.figures.fit?.pieces.find(({ at: [x, y] }) => x < 0 || y < 0 || x > width || y > depth)
  report({
    at: { field: ['setups', index] },
    setup: name,
    message: outside
      ? `The middle of the plug lies ${whereSentence(outside.at)}, beside the wood: its pocket runs out through the edge, and nothing of it shows in the cavity. Look at the zero of ${name} and at how the blank lies.`
      : `Nothing of the motif lies under the cavity: from this side it never shows. If it is meant for the other face alone, all is well; else look at the zero of ${name} and at how the blank lies.`,
    severity: outside ? undefined : 'information',
  })
}
