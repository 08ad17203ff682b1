import {
  type Connection,
  ErrorCodes,
  Message,
  type MessageStrategy,
  type NotificationMessage,
  type RequestMessage,
  ResponseError,
} from 'vscode-languageserver'
import { fits } from './params.ts'

/** Where a request is sent that may not be made now; no client can name it. */
const refused = Symbol('refused').toString()

interface Refusal {
  readonly code: number
  readonly message: string
}

/**
 * The order that LSP 3.17 asks for: nothing before initialize but initialize, that once, and nothing after shutdown but
 * exit. Requests that break it, or do not hold what they need, are answered with the error that the standard names; notes
 * are dropped.
 */
export class Lifecycle implements MessageStrategy {
  #state: 'new' | 'running' | 'over' = 'new'

  /** Whether the client has said shutdown: the process may end well. */
  get over(): boolean {
    return this.#state === 'over'
  }

  handleMessage(message: Message, next: (message: Message) => ReturnType<MessageStrategy['handleMessage']>) {
    if (Message.isRequest(message)) return next(this.#request(message))
    if (Message.isNotification(message) && !this.#hears(message)) return undefined
    return next(message)
  }

  /** Answers what is refused. */
  guard(connection: Connection): void {
    connection.onRequest(refused, ({ code, message }: Refusal) => new ResponseError(code, message))
  }

  #request(message: RequestMessage): RequestMessage {
    const refusal = this.#refusal(message)
    if (!refusal) return message
    return { ...message, method: refused, params: { ...refusal } }
  }

  #refusal({ method, params }: RequestMessage): Refusal | undefined {
    switch (this.#state) {
      case 'new':
        if (method !== 'initialize') {
          return { code: ErrorCodes.ServerNotInitialized, message: 'The client has not said initialize' }
        }
        this.#state = 'running'
        return undefined
      case 'running':
        if (method === 'initialize') {
          return { code: ErrorCodes.InvalidRequest, message: 'The client has said initialize already' }
        }
        if (!fits(method, params)) {
          return { code: ErrorCodes.InvalidParams, message: `The parameters of ${method} are not as described` }
        }
        if (method === 'shutdown') this.#state = 'over'
        return undefined
      case 'over':
        return { code: ErrorCodes.InvalidRequest, message: 'The client has said shutdown: only exit may follow' }
    }
  }

  #hears({ method, params }: NotificationMessage): boolean {
    return method === 'exit' || (this.#state === 'running' && fits(method, params))
  }
}
