import type { PreviewJob, PreviewSetup } from '../../server/src/features/preview/protocol.ts'
import { MotionKind } from '../../server/src/machine/motions.ts'
import { type Clock, type Moment, sayTime } from './clock.ts'
import { mm } from './dom.ts'

/** What is shown, in words: the line under the piece, and what a screen reader says. */
export function sayMoment(job: PreviewJob, clock: Clock, moment: Moment): string {
  const setup = job.setups[moment.setup]
  if (!setup) return 'The blank as received.'
  const place = `${setup.name}, ${moment.setup + 1} of ${job.setups.length}`
  if (setup.kind !== 'program') return `${place}. ${sayStep(setup)}`
  const face = `${setup.lie.face === 'top' ? 'top face' : 'underside'} up`
  if (moment.motion < 0) return `${place}, ${face}. Not yet cut.`
  const { motions } = setup
  if (moment.motion >= motions.count - 1 && moment.share >= 1) return `${place}, ${face}. Program done.`
  const bit = setup.bits[setup.bitOfState[motions.state[moment.motion]]]
  const doing = motions.kind[moment.motion] === MotionKind.rapid ? 'rapid' : 'cutting feed'
  const operation = setup.operations.findLast(
    each => each.firstLine <= motions.line[moment.motion] && motions.line[moment.motion] <= each.lastLine,
  )
  const inside = clock.secondsOf(moment) - clock.starts[moment.setup]
  const all = clock.starts[moment.setup + 1] - clock.starts[moment.setup]
  return [
    `${place}, ${face}`,
    operation?.title,
    `line ${motions.line[moment.motion] + 1}`,
    bit ? bit.name || `bit ${bit.number}` : 'bit not known',
    doing,
    `about ${sayTime(inside)} of ${sayTime(all)}`,
  ]
    .filter(Boolean)
    .join(' · ')
}

function sayStep(setup: Exclude<PreviewSetup, { kind: 'program' }>): string {
  switch (setup.kind) {
    case 'insert':
      return setup.of === 'plug' ? `The plug of ${setup.material || 'wood'} is glued in.` : 'The resin is poured.'
    case 'saw':
      return `Sawn off at ${mm(setup.at)} mm over the underside.`
    case 'hand':
      return setup.roundOver > 0 ? `Edges rounded over to ${mm(setup.roundOver)} mm.` : 'Finished by hand.'
  }
}
