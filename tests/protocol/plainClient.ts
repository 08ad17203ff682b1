import { PassThrough } from 'node:stream'
import {
  type CancellationToken,
  createMessageConnection,
  type MessageConnection,
  StreamMessageReader,
  StreamMessageWriter,
} from 'vscode-jsonrpc/node'
import type {
  ClientCapabilities,
  Diagnostic,
  InitializeResult,
  Position,
  PublishDiagnosticsParams,
} from 'vscode-languageserver'
import { createConnection } from 'vscode-languageserver/node'
import type { InitializationOptions } from '../../server/src/features/editorMessages.ts'
import type { Workspace } from '../../server/src/job/workspace.ts'
import { startServer } from '../../server/src/wiring/languageServer.ts'
import { Lifecycle } from '../../server/src/wiring/lifecycle.ts'

export const folder = 'file:///bench'

/** Files in memory, by name: what lies on the disk of a test. */
export class MemoryFiles implements Workspace {
  readonly files = new Map<string, string | Uint8Array>()
  /** Files whose reading waits until the test lets it go on. */
  readonly held = new Map<string, Promise<void>>()

  constructor(files: Record<string, string | Uint8Array> = {}) {
    for (const [name, text] of Object.entries(files)) this.files.set(`${folder}/${name}`, text)
  }

  async read(uri: string): Promise<Uint8Array | undefined> {
    await this.held.get(uri)
    const file = this.files.get(uri)
    return typeof file === 'string' ? new TextEncoder().encode(file) : file
  }

  async list(of: string): Promise<readonly string[]> {
    const prefix = of.endsWith('/') ? of : `${of}/`
    const below = [...this.files.keys()].filter(uri => uri.startsWith(prefix)).map(uri => uri.slice(prefix.length))
    return below.filter(name => !name.includes('/'))
  }
}

/** An editor with no more than the protocol in it: says what it is told to say, and notes what it hears. */
export class PlainClient {
  readonly connection: MessageConnection
  readonly shown = new Map<string, Diagnostic[]>()
  readonly published: PublishDiagnosticsParams[] = []
  readonly log: string[] = []
  readonly progress: string[] = []
  #waiting: (() => void)[] = []
  #versions = new Map<string, number>()

  private constructor(files: Workspace) {
    const up = new PassThrough()
    const down = new PassThrough()
    const lifecycle = new Lifecycle()
    const server = createConnection(new StreamMessageReader(up), new StreamMessageWriter(down), {
      messageStrategy: lifecycle,
    })
    lifecycle.guard(server)
    startServer(server, { disk: files })
    this.connection = createMessageConnection(new StreamMessageReader(down), new StreamMessageWriter(up))
    this.connection.onNotification('textDocument/publishDiagnostics', (params: PublishDiagnosticsParams) => {
      this.published.push(params)
      this.shown.set(params.uri, params.diagnostics)
      this.#heard()
    })
    this.connection.onNotification('window/logMessage', ({ message }: { message: string }) => {
      this.log.push(message)
    })
    this.connection.onRequest('window/workDoneProgress/create', () => null)
    this.connection.onRequest('workspace/diagnostic/refresh', () => {
      this.#heard()
      return null
    })
    this.connection.onNotification('$/progress', ({ value }: { value: { kind: string } }) => {
      this.progress.push(value.kind)
      this.#heard()
    })
    this.connection.listen()
  }

  /** Connects, says initialize and initialized. */
  static async start(
    files: Workspace,
    capabilities: ClientCapabilities = {},
    initializationOptions: InitializationOptions = {},
  ): Promise<PlainClient & { readonly server: InitializeResult }> {
    const client = new PlainClient(files)
    const server = await client.connection.sendRequest<InitializeResult>('initialize', {
      processId: null,
      rootUri: folder,
      workspaceFolders: [{ uri: folder, name: 'bench' }],
      capabilities,
      initializationOptions,
    })
    await client.connection.sendNotification('initialized', {})
    return Object.assign(client, { server })
  }

  uri(name: string): string {
    return `${folder}/${name}`
  }

  open(name: string, text: string): Promise<void> {
    this.#versions.set(name, 1)
    const textDocument = { uri: this.uri(name), languageId: 'gcode', version: 1, text }
    return this.connection.sendNotification('textDocument/didOpen', { textDocument })
  }

  /** Replaces a part of a text; the whole of it where no part is named. */
  change(name: string, text: string, range?: { start: Position; end: Position }): Promise<void> {
    const version = (this.#versions.get(name) ?? 1) + 1
    this.#versions.set(name, version)
    return this.connection.sendNotification('textDocument/didChange', {
      textDocument: { uri: this.uri(name), version },
      contentChanges: [range ? { range, text } : { text }],
    })
  }

  close(name: string): Promise<void> {
    return this.connection.sendNotification('textDocument/didClose', { textDocument: { uri: this.uri(name) } })
  }

  request<T>(method: string, params: object, token?: CancellationToken): Promise<T> {
    return token
      ? this.connection.sendRequest<T>(method, params, token)
      : this.connection.sendRequest<T>(method, params)
  }

  /** Waits until what is shown of a file satisfies a condition. */
  async until(name: string, holds: (shown: readonly Diagnostic[]) => boolean): Promise<readonly Diagnostic[]> {
    for (;;) {
      const shown = this.shown.get(this.uri(name))
      if (shown && holds(shown)) return shown
      await this.next()
    }
  }

  /** Waits until something is heard of diagnostics or of progress. */
  next(): Promise<void> {
    return new Promise(resolve => this.#waiting.push(resolve))
  }

  /** Says shutdown and hangs up; answers whether the server was alive to the end. */
  async stop(): Promise<boolean> {
    const answer = await this.connection.sendRequest('shutdown')
    this.connection.dispose()
    return answer === null
  }

  #heard(): void {
    const waiting = this.#waiting
    this.#waiting = []
    for (const tell of waiting) tell()
  }
}

/** The codes of what is shown, in order. */
export function codes(shown: readonly Diagnostic[]): string[] {
  return shown.map(diagnostic => String(diagnostic.code))
}
