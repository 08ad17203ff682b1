import { type ChildProcess, spawn } from 'node:child_process'
import { mkdtemp, rm, writeFile } from 'node:fs/promises'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import type { Readable, Writable } from 'node:stream'
import { pathToFileURL } from 'node:url'

/** How a page is to be seen. */
export interface Seen {
  readonly width: number
  readonly height: number
  readonly scheme: 'light' | 'dark'
}

/** A picture that takes longer than this, ms, will not come. */
const PATIENCE = 240_000

/** Draws alike everywhere, with or without a graphics card. */
const FLAGS = [
  '--headless',
  '--remote-debugging-pipe',
  '--use-gl=angle',
  '--use-angle=swiftshader',
  '--enable-unsafe-swiftshader',
  '--hide-scrollbars',
  '--no-first-run',
  '--disable-background-networking',
  '--disable-component-update',
  '--disable-dev-shm-usage',
  '--disable-extensions',
  '--disable-sync',
]

/** A page in a browser without a window. */
export interface OpenPage {
  /** The value of an expression in the page; of a promise, what it comes to. */
  evaluate<R>(expression: string): Promise<R>
  /** Waits until an expression of the page is true, looking at every frame. */
  until(expression: string): Promise<void>
  /** A PNG of what is seen. */
  picture(): Promise<Buffer>
}

/**
 * Opens a page in a browser without a window and does something with it. The browser is driven over a pipe of its own,
 * so that no port is opened.
 * @throws Error with the reason in plain words where the browser does not do it
 */
export async function inBrowser<R>(
  browser: string,
  page: string,
  seen: Seen,
  work: (open: OpenPage) => Promise<R>,
): Promise<R> {
  const folder = await mkdtemp(join(tmpdir(), 'treen-picture-'))
  const file = join(folder, 'page.html')
  await writeFile(file, page)
  // As root its sandbox cannot be had; the page is our own and fetches nothing.
  const asRoot = process.getuid?.() === 0 ? ['--no-sandbox'] : []
  const child = spawn(browser, [...FLAGS, ...asRoot, `--user-data-dir=${join(folder, 'profile')}`, 'about:blank'], {
    stdio: ['ignore', 'ignore', 'ignore', 'pipe', 'pipe'],
  })
  try {
    const opened = open(new Pipe(child), pathToFileURL(file).href, seen)
    return await within(PATIENCE, child, opened.then(work))
  } finally {
    await ended(child)
    await rm(folder, { recursive: true, force: true, maxRetries: 5, retryDelay: 100 })
  }
}

async function open(pipe: Pipe, address: string, { width, height, scheme }: Seen): Promise<OpenPage> {
  const { targetId } = await pipe.send<{ targetId: string }>('Target.createTarget', { url: 'about:blank' })
  const { sessionId } = await pipe.send<{ sessionId: string }>('Target.attachToTarget', { targetId, flatten: true })
  const ask = <R>(method: string, params: object = {}) => pipe.send<R>(method, params, sessionId)
  await ask('Emulation.setDeviceMetricsOverride', { width, height, deviceScaleFactor: 1, mobile: false })
  const features = [
    { name: 'prefers-color-scheme', value: scheme },
    { name: 'prefers-reduced-motion', value: 'reduce' },
  ]
  await ask('Emulation.setEmulatedMedia', { features })
  await ask('Page.enable')
  const loaded = pipe.once('Page.loadEventFired')
  await ask('Page.navigate', { url: address })
  await loaded
  const evaluate = async <R>(expression: string): Promise<R> => {
    const { result, exceptionDetails } = await ask<Evaluated<R>>('Runtime.evaluate', {
      expression,
      awaitPromise: true,
      returnByValue: true,
    })
    if (exceptionDetails) throw new Error(exceptionDetails.exception?.description ?? exceptionDetails.text)
    return result.value
  }
  return {
    evaluate,
    until: expression =>
      evaluate(`new Promise(done => {
        const look = () => (${expression}) ? done() : requestAnimationFrame(look)
        look()
      })`),
    async picture() {
      const { data } = await ask<{ data: string }>('Page.captureScreenshot', { format: 'png' })
      return Buffer.from(data, 'base64')
    },
  }
}

interface Evaluated<R> {
  readonly result: { readonly value: R }
  readonly exceptionDetails?: { readonly text: string; readonly exception?: { readonly description?: string } }
}

interface Answer {
  readonly id?: number
  readonly method?: string
  readonly result?: unknown
  readonly error?: { readonly message: string }
}

/** The browser's debugging protocol over its pipe: JSON texts, each ended by a zero byte. */
class Pipe {
  readonly #into: Writable
  readonly #waiting = new Map<number, { done(result: unknown): void; failed(error: Error): void }>()
  readonly #events = new Map<string, () => void>()
  #sent = 0
  #rest = ''

  constructor(child: ChildProcess) {
    this.#into = child.stdio[3] as Writable
    const from = child.stdio[4] as Readable
    from.setEncoding('utf8')
    from.on('data', (text: string) => this.#hear(text))
    // A browser that is gone says so by its end, which is waited for elsewhere.
    this.#into.on('error', () => undefined)
    from.on('error', () => undefined)
  }

  send<R>(method: string, params: object = {}, sessionId?: string): Promise<R> {
    const id = ++this.#sent
    this.#into.write(`${JSON.stringify({ id, method, params, sessionId })}\0`)
    return new Promise<R>((done, failed) => {
      this.#waiting.set(id, { done: result => done(result as R), failed })
    })
  }

  once(method: string): Promise<void> {
    return new Promise(done => this.#events.set(method, done))
  }

  #hear(text: string): void {
    const messages = (this.#rest + text).split('\0')
    this.#rest = messages.pop() ?? ''
    for (const message of messages) {
      const { id, method, result, error } = JSON.parse(message) as Answer
      if (method) this.#events.get(method)?.()
      const waiting = id === undefined ? undefined : this.#waiting.get(id)
      if (!waiting || id === undefined) continue
      this.#waiting.delete(id)
      if (error) waiting.failed(new Error(error.message))
      else waiting.done(result)
    }
  }
}

function within<T>(patience: number, child: ChildProcess, work: Promise<T>): Promise<T> {
  let timer: NodeJS.Timeout | undefined
  const given = new Promise<never>((_, failed) => {
    timer = setTimeout(() => failed(new Error(`the browser took longer than ${patience / 1000} s`)), patience)
    child.once('error', error => failed(new Error(`the browser does not start: ${error.message}`)))
    child.once('exit', (code, signal) => failed(new Error(`the browser ended by itself with ${code ?? signal}`)))
  })
  return Promise.race([work, given]).finally(() => clearTimeout(timer))
}

/** Ends the browser that was started here, and waits until it is gone: until then it writes into its folder. */
function ended(child: ChildProcess): Promise<void> {
  if (child.exitCode !== null || child.signalCode !== null || child.pid === undefined) return Promise.resolve()
  return new Promise(done => {
    child.once('exit', () => done())
    child.kill('SIGKILL')
  })
}
