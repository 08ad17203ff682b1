import { type ExtensionContext, Uri } from 'vscode'
import { LanguageClient, TransportKind } from 'vscode-languageclient/node'
import { start } from './start.ts'

/** On a desktop the server is a process of its own, so that a long check never holds up the editor. */
export function activate(context: ExtensionContext): void {
  const module = Uri.joinPath(context.extensionUri, 'dist/server.cjs').fsPath
  const run = { module, transport: TransportKind.ipc }
  start(context, options => new LanguageClient('treen', 'Treen', { run, debug: run }, options))
}
