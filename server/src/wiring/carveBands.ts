import { type MessagePort, workerData } from 'node:worker_threads'
import { type BandAnswer, type BandJob, buffersOf, carveBand } from '../stock/bands.ts'

/** What a thread is started with. */
export interface BandThreadData {
  readonly bandPort: MessagePort
  /** Counts the replies; whoever waits for one is woken by it. */
  readonly replies: Int32Array
}

export interface NumberedJob {
  readonly number: number
  readonly job: BandJob
}

/** With the number of the job that it answers. */
export type Reply = { readonly number: number } & ({ readonly answer: BandAnswer } | { readonly fault: string })

/** The script of a thread that carves bands: one job in, one reply out. It does nothing in any other thread. */
const data = workerData as Partial<BandThreadData> | null
if (data?.bandPort && data.replies) serve(data.bandPort, data.replies)

function serve(port: MessagePort, replies: Int32Array): void {
  port.on('message', (job: NumberedJob) => {
    const reply = replyTo(job)
    port.postMessage(reply, 'answer' in reply ? buffersOf(reply.answer) : [])
    Atomics.add(replies, 0, 1)
    Atomics.notify(replies, 0)
  })
}

function replyTo({ number, job }: NumberedJob): Reply {
  try {
    return { number, answer: carveBand(job) }
  } catch (error) {
    return { number, fault: String(error) }
  }
}
