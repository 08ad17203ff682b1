import type { ExtensionContext } from 'vscode'
import { start } from './start.ts'

export function activate(context: ExtensionContext): void {
  start(context, async ends => {
    const { newClient } = await import('./languageClient.node.ts')
    return newClient(context, ends)
  })
}
