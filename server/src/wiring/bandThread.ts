import { type BandAnswer, type BandJob, type BandWorker, buffersOf } from '../stock/bands.ts'

/** A thread with the script of `carveBands.ts`, in whatever way an environment starts it. */
export interface BandThread {
  post(message: BandJob, transfer: ArrayBuffer[]): void
  /** Hears every message, and of the thread's end or fault. */
  listen(heard: (message: Reply) => void, ended: (why: unknown) => void): void
  end(): void
}

export type Reply = { readonly answer: BandAnswer } | { readonly fault: string }

/** A worker out of a thread: jobs are answered in the order in which they came. */
export function bandWorker(thread: BandThread): BandWorker & { end(): void } {
  const waiting: { resolve(answer: BandAnswer): void; reject(why: unknown): void }[] = []
  thread.listen(
    message => {
      const next = waiting.shift()
      if ('answer' in message) next?.resolve(message.answer)
      else next?.reject(new Error(message.fault))
    },
    why => {
      for (const { reject } of waiting.splice(0)) reject(why)
    },
  )
  return {
    carve: job =>
      new Promise((resolve, reject) => {
        waiting.push({ resolve, reject })
        thread.post(job, buffersOf(job))
      }),
    end: () => thread.end(),
  }
}

/** Starts such a thread in a browser or a web worker, from the text of the script: no address is needed. */
export function webThread(script: string): BandThread {
  const url = URL.createObjectURL(new Blob([script], { type: 'text/javascript' }))
  const worker = new Worker(url)
  URL.revokeObjectURL(url)
  return {
    post: (message, transfer) => worker.postMessage(message, transfer),
    listen: (heard, ended) => {
      worker.onmessage = ({ data }: { data: Reply }) => heard(data)
      worker.onerror = event => ended(new Error(event.message))
    },
    end: () => worker.terminate(),
  }
}
