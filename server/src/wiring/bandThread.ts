import { existsSync } from 'node:fs'
import { availableParallelism } from 'node:os'
import { MessageChannel, receiveMessageOnPort, Worker } from 'node:worker_threads'
import { type BandWorker, buffersOf, crewOf } from '../stock/bands.ts'
import { carveWith } from '../stock/carve.ts'
import type { BandThreadData, NumberedJob, Reply } from './carveBands.ts'

/** How long an answer may take from when this thread is done with its own share: starting a thread, and its share. */
const PATIENCE = { least: 3000, timesOwn: 5 }
/** More threads than this wait for memory, not for each other. */
const MOST_THREADS = 3

export interface BandThread extends BandWorker {
  /** It has ended, or did not answer in time. */
  isGone(): boolean
  end(): void
}

/**
 * A thread with the script of `carveBands.ts`, from a file. It is waited for without giving others a turn, as carving
 * itself does, so that the pure stages above need not know of it. It does not keep the process alive.
 */
export function bandThread(script: string): BandThread {
  const { port1, port2 } = new MessageChannel()
  const replies = new Int32Array(new SharedArrayBuffer(4))
  const workerData: BandThreadData = { bandPort: port2, replies }
  const worker = new Worker(script, { workerData, transferList: [port2] })
  worker.unref()
  port1.unref()
  let isGone = false
  let asked = 0
  const left = () => {
    isGone = true
  }
  // Unheard, a fault of the thread would end the process.
  worker.on('error', left)
  worker.on('exit', left)
  const end = () => {
    isGone = true
    void worker.terminate()
  }
  return {
    begin: job => {
      if (isGone) return () => undefined
      const number = ++asked
      const began = performance.now()
      port1.postMessage({ number, job } satisfies NumberedJob, buffersOf(job))
      return () => {
        const patience = Math.max(PATIENCE.least, PATIENCE.timesOwn * (performance.now() - began))
        const until = performance.now() + patience
        for (;;) {
          const before = Atomics.load(replies, 0)
          const reply = receiveMessageOnPort(port1)?.message as Reply | undefined
          if (reply?.number === number) return 'answer' in reply ? reply.answer : undefined
          // A job that nobody waited for in the end, for this thread's own share failed: its answer is of other wood.
          if (reply) continue
          if (Atomics.wait(replies, 0, before, until - performance.now()) !== 'timed-out') continue
          end()
          return undefined
        }
      }
    },
    isGone: () => isGone,
    end,
  }
}

/**
 * From now on large carvings of this process are shared with as many threads as there are processors to spare, which are
 * started at the first of them. Where the script is not there, or threads are refused, this thread carves alone.
 */
export function carveWithThreads(script: string): void {
  const count = Math.min(MOST_THREADS, availableParallelism() - 1)
  if (count < 1 || !existsSync(script)) return
  let threads: BandThread[] | undefined
  carveWith(
    crewOf(() => {
      threads ??= startThreads(script, count)
      return threads.filter(thread => !thread.isGone())
    }),
  )
}

function startThreads(script: string, count: number): BandThread[] {
  try {
    return Array.from({ length: count }, () => bandThread(script))
  } catch {
    return []
  }
}
