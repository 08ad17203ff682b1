import { existsSync } from 'node:fs'
import { join } from 'node:path'
import { pathToFileURL } from 'node:url'
import { type Connection, createConnection, ProposedFeatures } from 'vscode-languageserver/node'
import { diskWorkspace } from './diskWorkspace.ts'
import { startServer } from './languageServer.ts'
import { Lifecycle } from './lifecycle.ts'
import { stdioConnection } from './stdio.ts'

/**
 * A language server in this process. It speaks by whatever the process was started with: `--stdio`, `--node-ipc`,
 * `--socket=N` or `--pipe=NAME`; the process ends when the client says exit: 0 after shutdown, else 1, as LSP has it.
 */
export function serveNode(): void {
  const pages = join(__dirname, 'rules')
  const lifecycle = new Lifecycle()
  const connection: Connection = process.argv.includes('--stdio')
    ? stdioConnection(lifecycle)
    : createConnection(ProposedFeatures.all, { messageStrategy: lifecycle })
  lifecycle.guard(connection)
  startServer(connection, {
    disk: diskWorkspace,
    pages: existsSync(pages) ? pathToFileURL(pages).toString() : undefined,
  })
}
