import type { PreviewJob, PreviewSetup } from '../../server/src/features/preview/protocol.ts'
import type { Lie } from '../../server/src/stock/lie.ts'
import type { Moment } from './clock.ts'

/** What of a job a moment speaks of. */

export type Programmed = Extract<PreviewSetup, { kind: 'program' }>
export type Blank = PreviewJob['blanks'][number]

export function programAt(job: PreviewJob | undefined, index: number): Programmed | undefined {
  const setup = job?.setups[index]
  return setup?.kind === 'program' ? setup : undefined
}

/** The blank of a set-up; of a job without set-ups, its first. */
export function blankAt(job: PreviewJob, index: number): Blank | undefined {
  const name = job.setups[index]?.blank
  return job.blanks.find(blank => blank.name === name) ?? job.blanks[0]
}

/** The lie of a step that no program does is that of the nearest before it on the same blank. */
export function lieAt(job: PreviewJob, index: number): Lie {
  for (let i = Math.min(index, job.setups.length - 1); i >= 0; i--) {
    const setup = job.setups[i]
    if (setup.kind === 'program' && setup.blank === job.setups[index].blank) return setup.lie
  }
  return { face: 'top', turn: 'sideways', spin: 0 }
}

/** What has been set into the blank of a set-up by then, in order: the material of columns counts them from 1. */
export function insertsAt(job: PreviewJob, index: number): Extract<PreviewSetup, { kind: 'insert' }>[] {
  const blank = blankAt(job, index)?.name
  return job.setups
    .slice(0, index + 1)
    .filter(
      (setup): setup is Extract<PreviewSetup, { kind: 'insert' }> => setup.kind === 'insert' && setup.blank === blank,
    )
}

/** The end of a set-up. */
export function endOf(job: PreviewJob, index: number): Moment {
  const setup = programAt(job, index)
  return { setup: index, motion: setup ? setup.motions.count - 1 : -1, share: 1 }
}

/** A place that was kept, where the job still has it; else the end, with the piece as it will be. */
export function momentKept(
  job: PreviewJob,
  kept: { readonly setup: string; readonly motion: number; readonly share: number },
): Moment {
  const index = job.setups.findIndex(each => each.name === kept.setup)
  if (index < 0) return endOf(job, Math.max(0, job.setups.length - 1))
  return { setup: index, motion: Math.min(kept.motion, endOf(job, index).motion), share: kept.share }
}

/**
 * The last motion that a line made, or the next line's after it that made one; undefined where no set-up runs that
 * program. Of several set-ups that do: the one of that name, else the one at `now`, else the first.
 */
export function momentOfLine(
  job: PreviewJob,
  now: Moment,
  program: string,
  line: number,
  name?: string,
): Moment | undefined {
  const fits = (setup: PreviewSetup | undefined) => setup?.kind === 'program' && setup.program === program
  let index = job.setups.findIndex(setup => fits(setup) && setup.name === name)
  if (index < 0 && fits(job.setups[now.setup])) index = now.setup
  if (index < 0) index = job.setups.findIndex(fits)
  const setup = programAt(job, index)
  if (!setup) return undefined
  const { line: lines, count } = setup.motions
  let motion = lines.lastIndexOf(line)
  if (motion < 0) motion = lines.findIndex(each => each > line) - 1
  if (motion < -1 || (motion === -1 && count && lines[0] <= line)) motion = count - 1
  return { setup: index, motion, share: 1 }
}
