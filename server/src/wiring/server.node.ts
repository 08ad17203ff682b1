import { existsSync } from 'node:fs'
import { join } from 'node:path'
import { pathToFileURL } from 'node:url'
import { createConnection, ProposedFeatures } from 'vscode-languageserver/node'
import { diskWorkspace } from './diskWorkspace.ts'
import { startServer } from './languageServer.ts'

/** Speaks LSP by whatever the process was started with: `--stdio`, `--node-ipc`, `--socket=N`, `--pipe=NAME`. */
export function serve(): void {
  const pages = join(__dirname, 'rules')
  startServer(createConnection(ProposedFeatures.all), {
    disk: diskWorkspace,
    pages: existsSync(pages) ? pathToFileURL(pages).toString() : undefined,
  })
}

serve()
