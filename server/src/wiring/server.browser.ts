import { BrowserMessageReader, BrowserMessageWriter, createConnection } from 'vscode-languageserver/browser'
import { startServer } from './languageServer.ts'
import { Lifecycle } from './lifecycle.ts'

/** In a worker there is no disk: every file comes from the editor. */
const worker = self as unknown as DedicatedWorkerGlobalScope
const lifecycle = new Lifecycle()
const connection = createConnection(new BrowserMessageReader(worker), new BrowserMessageWriter(worker), {
  messageStrategy: lifecycle,
})
lifecycle.guard(connection)
startServer(connection, {})
