import { type ChildProcess, spawn } from 'node:child_process'
import { createServer } from 'node:net'

/** A server process of ours that says on its output when it listens. */
export interface Serving {
  /** All that it has said so far, for when something fails. */
  said(): string
  stop(): Promise<void>
}

/** A port that nobody listens on. */
export function freePort(): Promise<number> {
  return new Promise((resolve, reject) => {
    const probe = createServer()
    probe.on('error', reject)
    probe.listen(0, '127.0.0.1', () => {
      const address = probe.address()
      const port = typeof address === 'object' && address ? address.port : 0
      probe.close(() => resolve(port))
    })
  })
}

/** Starts a process and waits until it prints what `ready` matches; fails if it ends before. */
export function serve(command: string, args: readonly string[], ready: RegExp): Promise<Serving> {
  const child = spawn(command, args, { stdio: ['ignore', 'pipe', 'pipe'], detached: true })
  let text = ''
  return new Promise((resolve, reject) => {
    const hear = (chunk: Buffer) => {
      text += chunk
      if (ready.test(text)) resolve({ said: () => text, stop: () => stop(child) })
    }
    child.stdout.on('data', hear)
    child.stderr.on('data', hear)
    child.on('error', reject)
    child.on('exit', code => reject(new Error(`${command} ended with ${code} before it listened:\n${text}`)))
  })
}

/** Ends the process and those that it started: they share its group, which is its own. */
function stop(child: ChildProcess): Promise<void> {
  if (child.exitCode !== null || child.pid === undefined) return Promise.resolve()
  const group = -child.pid
  return new Promise(resolve => {
    child.once('exit', () => resolve())
    process.kill(group, 'SIGTERM')
  })
}
