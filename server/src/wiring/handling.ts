import { type CancellationToken, type Connection, LSPErrorCodes, ResponseError } from 'vscode-languageserver'

/** What a handler's work ends with once nobody wants its answer. */
export function isAbort(error: unknown): boolean {
  return error instanceof Error && error.name === 'AbortError'
}

/**
 * The one wrapper round everything that answers the editor: a cancelled request ends as cancelled, and a fault of ours
 * becomes a line in the log and an empty answer, never a dead server.
 */
export function handler<P, R, E = void>(
  connection: Connection,
  name: string,
  empty: R,
  answer: (params: P, signal: AbortSignal) => R | Promise<R>,
): (params: P, token: CancellationToken) => Promise<R | ResponseError<E>> {
  return async (params, token) => {
    const work = new AbortController()
    if (token.isCancellationRequested) work.abort()
    const listening = token.onCancellationRequested(() => work.abort())
    try {
      work.signal.throwIfAborted()
      return await answer(params, work.signal)
    } catch (error) {
      if (isAbort(error)) return new ResponseError<E>(LSPErrorCodes.RequestCancelled, `${name} was cancelled`)
      connection.console.error(faultText(name, error))
      return empty
    } finally {
      listening.dispose()
    }
  }
}

/** The same for a request of our own. */
export function answers<P, R>(
  connection: Connection,
  request: string,
  name: string,
  empty: R,
  answer: (params: P, signal: AbortSignal) => R | Promise<R>,
): void {
  connection.onRequest<unknown, void>(request, handler<P, R>(connection, name, empty, answer))
}

/** The same for what is only told: notes have no answer. */
export function listener<P>(
  connection: Connection,
  name: string,
  hear: (params: P) => void | Promise<void>,
): (params: P) => Promise<void> {
  return async params => {
    try {
      await hear(params)
    } catch (error) {
      if (!isAbort(error)) connection.console.error(faultText(name, error))
    }
  }
}

export function faultText(name: string, error: unknown): string {
  return `A fault in Treen's ${name}: ${error instanceof Error ? (error.stack ?? error.message) : String(error)}`
}
