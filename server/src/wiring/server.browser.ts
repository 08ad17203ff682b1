import { BrowserMessageReader, BrowserMessageWriter, createConnection } from 'vscode-languageserver/browser'
import { startServer } from './languageServer.ts'

/** In a worker there is no disk: every file comes from the editor. */
const worker = self as unknown as DedicatedWorkerGlobalScope
startServer(createConnection(new BrowserMessageReader(worker), new BrowserMessageWriter(worker)), {})
