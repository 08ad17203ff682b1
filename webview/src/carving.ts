import type { PreviewJob, SectionPlane } from '../../server/src/features/preview/protocol.ts'
import type { Moment } from './clock.ts'
import type { Suns } from './light.ts'
import type { Refined } from './refiner.ts'
import type { Section } from './section.ts'
import type { Place } from './snap.ts'
import script from './worker.ts?worker'
import type { FromWorker, ToWorker, Wanted } from './workerMessages.ts'

export type Shown = Extract<FromWorker, { type: 'shown' }>

/** The page's side of the worker: one picture at a time, and of those asked for meanwhile only the last. */
export interface Carving {
  /** Carves a job; one that was carved before is gone on from. */
  build(job: PreviewJob, suns: (moment: Moment) => Suns): void
  want(wanted: Wanted): void
  /** Cuts what is wanted open; the last plane asked for counts. */
  cutOpen(plane: SectionPlane, moment: Moment): void
  /** The place meant by a point of the piece. */
  snap(question: Omit<Extract<ToWorker, { type: 'snap' }>, 'type' | 'id'>): Promise<Place | undefined>
  /** Ends the worker; its memory goes with it. */
  stop(): void
}

export interface CarvingEvents {
  progress(share: number, setup: number): void
  /** `anew`: how many set-ups had to be carved. */
  built(ms: number, anew: number): void
  shown(shown: Shown): void
  /** The picture shown last, made crisp. */
  refined(refined: Refined, ms: number): void
  section(section: Section | undefined, ms: number): void
  trouble(message: string): void
}

/** A picture that stays for this long, ms, is worth making crisp. */
const RESTS = 90

/** Starts a worker of its own. */
export function startCarving(events: CarvingEvents): Carving {
  const url = URL.createObjectURL(new Blob([script], { type: 'text/javascript' }))
  const worker = new Worker(url)
  URL.revokeObjectURL(url)
  const send = (message: ToWorker) => worker.postMessage(message)
  let sunsOf: ((moment: Moment) => Suns) | undefined
  let ready = false
  let busy = false
  let builds = 0
  let wanted: Wanted | undefined
  let cut: { readonly plane: SectionPlane; readonly moment: Moment } | undefined
  let asked = 0
  const answers = new Map<number, (place: Place | undefined) => void>()
  let rest: ReturnType<typeof setTimeout> | undefined
  const refine = () => {
    if (!ready || busy || wanted || cut || refining) return
    refining = true
    send({ type: 'refine' })
  }
  let crisp = false
  /** Being made crisp: given up where another picture is asked for. */
  let refining = false
  const waitToRefine = () => {
    clearTimeout(rest)
    if (!crisp) rest = setTimeout(refine, RESTS)
  }
  /** Of the picture that is shown. */
  let held: Float32Array | undefined
  const giveBack = (columns: Float32Array | undefined) => {
    if (columns) worker.postMessage({ type: 'spare', columns } satisfies ToWorker, [columns.buffer])
  }
  const ask = () => {
    if (!ready || busy || !sunsOf) return
    if (wanted) {
      clearTimeout(rest)
      busy = true
      send({ type: 'show', suns: sunsOf(wanted.moment), ...wanted })
      wanted = undefined
    } else if (cut) {
      busy = true
      send({ type: 'section', ...cut })
      cut = undefined
    }
  }
  worker.onmessage = ({ data }: MessageEvent<FromWorker>) => {
    switch (data.type) {
      case 'progress':
        return events.progress(data.share, data.setup)
      case 'built':
        ready = true
        events.built(data.ms, data.anew)
        return ask()
      case 'shown':
        busy = false
        // What is still of the job before is not shown any more.
        if (data.of === builds) {
          events.shown(data)
          giveBack(held)
          held = data.faces.columns
        } else giveBack(data.faces.columns)
        crisp = refining = false
        ask()
        return waitToRefine()
      case 'section':
        busy = false
        if (ready) events.section(data.section, data.ms)
        ask()
        return waitToRefine()
      case 'snapped':
        answers.get(data.id)?.(data.place)
        answers.delete(data.id)
        return
      case 'refined':
        refining = false
        crisp = true
        if (ready) events.refined(data.refined, data.ms)
        return ask()
      case 'trouble':
        busy = false
        return events.trouble(data.message)
    }
  }
  worker.onerror = event => events.trouble(event.message || 'the worker stopped')
  return {
    build(job, suns) {
      clearTimeout(rest)
      ready = refining = false
      wanted = cut = undefined
      sunsOf = suns
      send({ type: 'build', of: ++builds, job, suns: suns({ setup: 0, motion: -1, share: 1 }) })
    },
    want(next) {
      wanted = next
      ask()
    },
    cutOpen(plane, moment) {
      cut = { plane, moment }
      ask()
    },
    snap(question) {
      const id = ++asked
      send({ type: 'snap', id, ...question })
      return new Promise(resolve => answers.set(id, resolve))
    },
    stop() {
      clearTimeout(rest)
      worker.terminate()
    },
  }
}
