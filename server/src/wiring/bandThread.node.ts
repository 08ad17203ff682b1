import { Worker } from 'node:worker_threads'
import type { BandThread, Reply } from './bandThread.ts'

/** What the script finds in a browser's worker, made of what node has. */
const PORT = `
const { parentPort } = require('node:worker_threads')
globalThis.postMessage = (message, transfer) => parentPort.postMessage(message, transfer)
parentPort.on('message', data => globalThis.onmessage({ data }))
`

/** Starts a thread with the script of `carveBands.ts` (as text) in node. It does not keep the process alive. */
export function nodeThread(script: string): BandThread {
  const worker = new Worker(`${PORT}\n${script}`, { eval: true })
  worker.unref()
  return {
    post: (message, transfer) => worker.postMessage(message, transfer),
    listen: (heard, ended) => {
      worker.on('message', (message: Reply) => heard(message))
      worker.on('error', ended)
      worker.on('exit', () => ended(new Error('the thread has ended')))
    },
    end: () => void worker.terminate(),
  }
}
