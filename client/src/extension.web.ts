import { type ExtensionContext, Uri } from 'vscode'
import { BrowserMessageReader, BrowserMessageWriter, LanguageClient } from 'vscode-languageclient/browser'
import { clientOf } from './languageClient.ts'
import { start } from './start.ts'

/** On the web the server is a worker, and files come through the editor. */
export function activate(context: ExtensionContext): void {
  const script = Uri.joinPath(context.extensionUri, 'dist/server.browser.js').toString(true)
  let worker: Worker | undefined
  // The host's workers are no instances of its `Worker`, by which the client would know one: it gets the ends instead.
  const connect = async () => {
    worker?.terminate()
    worker = new Worker(script)
    return { reader: new BrowserMessageReader(worker), writer: new BrowserMessageWriter(worker) }
  }
  start(context, async ends => clientOf(options => new LanguageClient('treen', 'Treen', connect, options), ends))
}
