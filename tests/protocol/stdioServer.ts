import { type ChildProcess, spawn } from 'node:child_process'
import { fileURLToPath } from 'node:url'
import type { Diagnostic } from 'vscode-languageserver'

const cli = fileURLToPath(new URL('../../dist/cli.cjs', import.meta.url))

/** What comes from the server: an answer, a note, or a request of its own. */
export interface Heard {
  readonly id?: number | string | null
  readonly method?: string
  readonly params?: Record<string, unknown>
  readonly result?: unknown
  readonly error?: { readonly code: number; readonly message: string }
}

/** The bytes of a message; anything but JSON may be given as text. */
export function framed(message: object | string, length?: number): string {
  const body = typeof message === 'string' ? message : JSON.stringify(message)
  return `Content-Length: ${length ?? Buffer.byteLength(body)}\r\n\r\n${body}`
}

/** The shipped server as a process of its own, and a client that writes bytes and reads messages: no library between. */
export class StdioServer {
  readonly process: ChildProcess
  readonly heard: Heard[] = []
  readonly shown = new Map<string, readonly Diagnostic[]>()
  /** Requests of the server's that are left unanswered. */
  readonly unanswered = new Set<string>()
  errors = ''
  #id = 0
  #bytes = Buffer.alloc(0)
  #waiting: (() => void)[] = []
  #code: number | null | undefined

  constructor() {
    this.process = spawn(process.execPath, [cli, 'language-server', '--stdio'], { stdio: 'pipe' })
    this.process.stdout!.on('data', (chunk: Buffer) => this.#take(chunk))
    this.process.stderr!.on('data', (chunk: Buffer) => {
      this.errors += chunk
    })
    // A server that has ended takes no more: that is what some tests are about.
    this.process.stdin!.on('error', () => {})
    this.process.on('exit', code => {
      this.#code = code
      this.#tell()
    })
  }

  /** Started, and past initialize. */
  static async start(capabilities: object = {}): Promise<StdioServer> {
    const server = new StdioServer()
    await server.initialize(capabilities)
    return server
  }

  async initialize(capabilities: object = {}): Promise<Heard> {
    const answer = await this.ask('initialize', { processId: null, rootUri: null, capabilities })
    this.note('initialized', {})
    return answer
  }

  write(bytes: string | Uint8Array): void {
    this.process.stdin!.write(bytes)
  }

  note(method: string, params?: object): void {
    this.write(framed({ jsonrpc: '2.0', method, params }))
  }

  /** Sends a request and gives its number. */
  request(method: string, params?: object): number {
    const id = ++this.#id
    this.write(framed({ jsonrpc: '2.0', id, method, params }))
    return id
  }

  async ask(method: string, params?: object): Promise<Heard> {
    return this.answer(this.request(method, params))
  }

  answer(id: number | null): Promise<Heard> {
    return this.until(heard => heard.method === undefined && heard.id === id)
  }

  /** The first message that is so, of those heard and to come. Fails where the process ends before. */
  async until(holds: (heard: Heard) => boolean): Promise<Heard> {
    for (;;) {
      const found = this.heard.find(holds)
      if (found) return found
      if (this.#code !== undefined) throw new Error(`The server has ended with ${this.#code}: ${this.errors}`)
      await this.#next()
    }
  }

  /** What is shown of a text, once it is so. */
  async untilShown(uri: string, holds: (codes: readonly string[]) => boolean): Promise<readonly string[]> {
    for (;;) {
      const shown = this.shown.get(uri)?.map(({ code }) => String(code))
      if (shown && holds(shown)) return shown
      if (this.#code !== undefined) throw new Error(`The server has ended with ${this.#code}: ${this.errors}`)
      await this.#next()
    }
  }

  /** The exit code, once it has ended. */
  async ended(): Promise<number | null> {
    while (this.#code === undefined) await this.#next()
    return this.#code
  }

  open(uri: string, text: string): void {
    this.note('textDocument/didOpen', { textDocument: { uri, languageId: 'gcode', version: 1, text } })
  }

  /** Ends it the way that the standard asks for; gives the exit code. */
  async stop(): Promise<number | null> {
    await this.ask('shutdown')
    this.note('exit')
    return this.ended()
  }

  #next(): Promise<void> {
    return new Promise(resolve => this.#waiting.push(resolve))
  }

  #tell(): void {
    const waiting = this.#waiting
    this.#waiting = []
    for (const tell of waiting) tell()
  }

  #take(chunk: Buffer): void {
    this.#bytes = Buffer.concat([this.#bytes, chunk])
    for (;;) {
      const end = this.#bytes.indexOf('\r\n\r\n')
      if (end < 0) return
      const length = Number(/Content-Length: (\d+)/i.exec(this.#bytes.subarray(0, end).toString())![1])
      if (this.#bytes.length < end + 4 + length) return
      const message: Heard = JSON.parse(this.#bytes.subarray(end + 4, end + 4 + length).toString())
      this.#bytes = this.#bytes.subarray(end + 4 + length)
      this.#hear(message)
    }
  }

  #hear(message: Heard): void {
    this.heard.push(message)
    if (message.method === 'textDocument/publishDiagnostics') {
      this.shown.set(String(message.params!.uri), message.params!.diagnostics as readonly Diagnostic[])
    }
    // What the server asks of an editor that can do nothing.
    if (message.method !== undefined && message.id !== undefined && !this.unanswered.has(message.method)) {
      this.write(framed({ jsonrpc: '2.0', id: message.id, result: null }))
    }
    this.#tell()
  }
}
