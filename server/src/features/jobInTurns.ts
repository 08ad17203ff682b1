import type { Memo } from '../job/memo.ts'
import type { JobOutcome } from '../job/outcome.ts'
import { type LoadedJob, runJob } from '../job/runJob.ts'

/** How long the work goes on before others have a turn, ms: a keystroke or a hover waits no longer than that and one step. */
const slice = 60

const pause = new Error('The work was put aside')

/**
 * `runJob` for a process that must stay answerable. The work is put aside at a step of its memo and begun anew in the
 * next turn, where all the steps done before are there at once; so nothing of the job needs to know of turns.
 * @throws the signal's reason once it is aborted
 */
export async function runJobInTurns(
  loaded: LoadedJob,
  memo: Memo,
  signal: AbortSignal | undefined,
): Promise<JobOutcome | undefined> {
  for (;;) {
    signal?.throwIfAborted()
    try {
      return runJob(loaded, pausing(memo))
    } catch (error) {
      if (error !== pause) throw error
    }
    await new Promise(resolve => setTimeout(resolve, 0))
  }
}

/** The same memo, which gives up before a new step once the slice is over, but never before one step is done. */
function pausing(memo: Memo): Memo {
  const from = performance.now()
  let done = 0
  return {
    get: (key, make) =>
      memo.get(key, () => {
        if (done > 0 && performance.now() - from > slice) throw pause
        const made = make()
        done++
        return made
      }),
    identity: thing => memo.identity(thing),
    sweep: () => memo.sweep(),
  }
}
