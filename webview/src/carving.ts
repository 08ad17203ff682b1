import type { PreviewJob } from '../../server/src/features/preview/protocol.ts'
import type { Moment } from './clock.ts'
import type { Suns } from './light.ts'
import type { Refined } from './refiner.ts'
import script from './worker.ts?worker'
import type { FromWorker, ToWorker } from './workerMessages.ts'

export type Shown = Extract<FromWorker, { type: 'shown' }>

/** The page's side of the worker: one picture at a time, and of those asked for meanwhile only the last. */
export interface Carving {
  want(moment: Moment): void
  /** Ends the worker; its memory goes with it. */
  stop(): void
}

export interface CarvingEvents {
  progress(share: number, setup: number): void
  built(ms: number): void
  shown(shown: Shown): void
  /** The picture shown last, made crisp. */
  refined(refined: Refined): void
  trouble(message: string): void
}

/** A picture that stays for this long, ms, is worth making crisp. */
const RESTS = 90

/** Starts a worker of its own for a job. */
export function startCarving(job: PreviewJob, suns: (moment: Moment) => Suns, events: CarvingEvents): Carving {
  const url = URL.createObjectURL(new Blob([script], { type: 'text/javascript' }))
  const worker = new Worker(url)
  URL.revokeObjectURL(url)
  const send = (message: ToWorker) => worker.postMessage(message)
  let ready = false
  let busy = false
  let wanted: Moment | undefined
  let rest: ReturnType<typeof setTimeout> | undefined
  const refine = () => {
    if (busy || wanted) return
    busy = true
    send({ type: 'refine' })
  }
  const ask = () => {
    if (!ready || busy || !wanted) return
    clearTimeout(rest)
    busy = true
    send({ type: 'show', moment: wanted, suns: suns(wanted) })
    wanted = undefined
  }
  worker.onmessage = ({ data }: MessageEvent<FromWorker>) => {
    switch (data.type) {
      case 'progress':
        return events.progress(data.share, data.setup)
      case 'built':
        ready = true
        events.built(data.ms)
        return ask()
      case 'shown':
        busy = false
        events.shown(data)
        rest = setTimeout(refine, RESTS)
        return ask()
      case 'refined':
        busy = false
        events.refined(data.refined)
        return ask()
      case 'trouble':
        busy = false
        return events.trouble(data.message)
    }
  }
  worker.onerror = event => events.trouble(event.message || 'the worker stopped')
  send({ type: 'build', job, suns: suns({ setup: 0, motion: -1, share: 1 }) })
  return {
    want(moment) {
      wanted = moment
      ask()
    },
    stop() {
      clearTimeout(rest)
      worker.terminate()
    },
  }
}
