import { type ExtensionContext, Uri } from 'vscode'
import { LanguageClient } from 'vscode-languageclient/browser'
import { start } from './start.ts'

/** On the web the server is a worker, and files come through the editor. */
export function activate(context: ExtensionContext): Promise<void> {
  const script = Uri.joinPath(context.extensionUri, 'dist/server.browser.js').toString(true)
  let worker: Worker | undefined
  const newWorker = async () => {
    worker?.terminate()
    worker = new Worker(script)
    return worker
  }
  return start(context, options => new LanguageClient('treen', 'Treen', newWorker, options))
}
