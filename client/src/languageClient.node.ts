import { type ExtensionContext, Uri } from 'vscode'
import type { BaseLanguageClient } from 'vscode-languageclient'
import { LanguageClient, TransportKind } from 'vscode-languageclient/node'
import { clientOf, type Ends } from './languageClient.ts'

/** On a desktop the server is a process of its own, so that a long check never holds up the editor. */
export function newClient({ extensionUri }: ExtensionContext, ends: Ends): BaseLanguageClient {
  const module = Uri.joinPath(extensionUri, 'dist/server.cjs').fsPath
  const run = { module, transport: TransportKind.ipc }
  return clientOf(options => new LanguageClient('treen', 'Treen', { run, debug: run }, options), ends)
}
