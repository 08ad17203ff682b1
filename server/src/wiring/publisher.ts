import type { Connection, Diagnostic } from 'vscode-languageserver'
import type { Documents } from './documents.ts'

/** What a client that pulls is answered. */
export interface Pulled {
  readonly resultId: string
  readonly items: readonly Diagnostic[]
}

/**
 * Brings diagnostics to the editor: pushed, or, where the client pulls, kept until it asks. A client that pulls asks
 * only for what it has open, so what is found in other files is pushed to it as well, and taken back when they are
 * opened: no file is shown by both ways at once.
 */
export class Publisher {
  readonly #connection: Connection
  readonly #documents: Documents
  readonly #pulls: boolean
  readonly #canRefresh: boolean
  readonly #known = new Map<string, { pulled: Pulled; version: number | undefined }>()
  readonly #pushed = new Set<string>()
  #asking: { readonly uri: string; readonly answer: () => void }[] = []
  #count = 0
  #refreshing = false

  constructor(connection: Connection, documents: Documents, client: { pulls: boolean; refreshes: boolean }) {
    this.#connection = connection
    this.#documents = documents
    this.#pulls = client.pulls
    this.#canRefresh = client.refreshes
  }

  /** What is to be shown of a file from now on. */
  set(uri: string, items: readonly Diagnostic[]): void {
    const version = this.#documents.version(uri)
    const before = this.#known.get(uri)
    const same = before !== undefined && JSON.stringify(before.pulled.items) === JSON.stringify(items)
    const pulled = same ? before.pulled : { resultId: String(++this.#count), items }
    this.#known.set(uri, { pulled, version })
    if (this.#pulls && version !== undefined) this.#offer(uri, same)
    else if (!same || (version !== undefined && before.version !== version)) this.#push(uri, items)
    if (items.length === 0 && version === undefined) this.#known.delete(uri)
  }

  /** A text was opened: from now on a client that pulls asks for it. */
  opened(uri: string): void {
    if (this.#pulls && this.#pushed.has(uri)) this.#push(uri, [])
  }

  closed(uri: string): void {
    this.#known.delete(uri)
    this.#answer(uri)
  }

  /** The diagnostics of an open text's present version, once they are known. */
  async pull(uri: string, signal: AbortSignal): Promise<Pulled> {
    for (;;) {
      signal.throwIfAborted()
      const version = this.#documents.version(uri)
      if (version === undefined) return { resultId: '', items: [] }
      const known = this.#known.get(uri)
      if (known?.version === version) return known.pulled
      await new Promise<void>(resolve => {
        this.#asking.push({ uri, answer: resolve })
        signal.addEventListener('abort', () => resolve(), { once: true })
      })
    }
  }

  #offer(uri: string, same: boolean): void {
    if (this.#answer(uri) || same || !this.#canRefresh || this.#refreshing) return
    // Nobody waits, so the client believes what it was told before: ask it to ask again.
    this.#refreshing = true
    setTimeout(() => {
      this.#refreshing = false
      this.#connection.languages.diagnostics.refresh()
    }, 0)
  }

  /** Lets those who wait for a text look again; false where nobody does. */
  #answer(uri: string): boolean {
    const asking = this.#asking.filter(each => each.uri === uri)
    this.#asking = this.#asking.filter(each => each.uri !== uri)
    for (const { answer } of asking) answer()
    return asking.length > 0
  }

  #push(uri: string, items: readonly Diagnostic[]): void {
    if (items.length > 0) this.#pushed.add(uri)
    else if (!this.#pushed.delete(uri) && this.#documents.version(uri) === undefined) return
    const version = this.#documents.version(uri)
    void this.#connection.sendDiagnostics({ uri: this.#documents.spelled(uri), version, diagnostics: [...items] })
  }
}
