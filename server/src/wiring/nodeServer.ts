import { existsSync } from 'node:fs'
import { join } from 'node:path'
import { pathToFileURL } from 'node:url'
import { createConnection, ProposedFeatures } from 'vscode-languageserver/node'
import { diskWorkspace } from './diskWorkspace.ts'
import { startServer } from './languageServer.ts'

/**
 * A language server in this process. It speaks by whatever the process was started with: `--stdio`, `--node-ipc`,
 * `--socket=N` or `--pipe=NAME`; the process ends when the client says exit: 0 after shutdown, else 1, as LSP has it.
 */
export function serveNode(): void {
  const pages = join(__dirname, 'rules')
  startServer(createConnection(ProposedFeatures.all), {
    disk: diskWorkspace,
    pages: existsSync(pages) ? pathToFileURL(pages).toString() : undefined,
  })
}
