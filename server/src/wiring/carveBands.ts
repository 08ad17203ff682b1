import { type MessagePort, workerData } from 'node:worker_threads'
import { type BandAnswer, type BandJob, buffersOf, carveBand } from '../stock/bands.ts'

/** What a thread is started with. */
export interface BandThreadData {
  readonly bandPort: MessagePort
  /** Counts the replies; whoever waits for one is woken by it. */
  readonly replies: Int32Array
}

export type Reply = { readonly answer: BandAnswer } | { readonly fault: string }

/** The script of a thread that carves bands: one job in, one reply out. It does nothing in any other thread. */
const data = workerData as Partial<BandThreadData> | null
if (data?.bandPort && data.replies) serve(data.bandPort, data.replies)

function serve(port: MessagePort, replies: Int32Array): void {
  port.on('message', (job: BandJob) => {
    const reply = replyTo(job)
    port.postMessage(reply, 'answer' in reply ? buffersOf(reply.answer) : [])
    Atomics.add(replies, 0, 1)
    Atomics.notify(replies, 0)
  })
}

function replyTo(job: BandJob): Reply {
  try {
    return { answer: carveBand(job) }
  } catch (error) {
    return { fault: String(error) }
  }
}
