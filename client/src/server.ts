import type { Disposable } from 'vscode'
import type { BaseLanguageClient } from 'vscode-languageclient'

/**
 * The server as the commands see it: it may still be on its way. Its client is several times larger than all else in
 * here, so it is loaded and started after activation, which the editor waits for.
 */
export class Server implements Disposable {
  readonly #client: Promise<BaseLanguageClient>
  readonly #failed: (error: unknown) => void

  /** @param failed hears why the server could not be started */
  constructor(load: () => Promise<BaseLanguageClient>, failed: (error: unknown) => void) {
    this.#failed = failed
    this.#client = new Promise<void>(resolve => setTimeout(resolve, 0)).then(load)
    void this.#start()
  }

  /** Waits for the server where it is not there yet. */
  async sendRequest<R>(method: string, params: object): Promise<R> {
    const client = await this.#client
    return client.sendRequest<R>(method, params)
  }

  /** A line in the log. */
  async error(message: string): Promise<void> {
    const client = await this.#client
    client.error(message, undefined, false)
  }

  async restart(): Promise<void> {
    const client = await this.#client
    // One that has been given up, or never came up, has nothing to stop.
    await client.stop().catch(() => {})
    await this.#start()
  }

  dispose(): void {
    void this.#client.then(client => client.dispose()).catch(() => {})
  }

  async #start(): Promise<void> {
    try {
      await (await this.#client).start()
    } catch (error) {
      this.#failed(error)
    }
  }
}
