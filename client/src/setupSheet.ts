import { commands, l10n, Uri, ViewColumn, window, workspace } from 'vscode'
import { type SetupSheetResult, setupSheetRequest } from '../../server/src/features/editorMessages.ts'
import { nonce } from './previews.ts'
import type { Server } from './server.ts'

/** Shows the set-up sheet of a job beside its text, and offers to keep it as a page that any browser prints. */
export async function openSetupSheet(server: Server, uri: Uri): Promise<void> {
  // The check reads the texts that are open.
  const { document } = await window.showTextDocument(uri, { preserveFocus: false })
  const result = await server.sendRequest<SetupSheetResult>(setupSheetRequest, { uri: uri.toString(), nonce: nonce() })
  if ('why' in result) {
    const begin = l10n.t('Begin a Job Sheet')
    const offers = document.languageId === 'gcode' ? [begin] : []
    const chosen = await window.showInformationMessage(result.why, ...offers)
    if (chosen === begin) await commands.executeCommand('treen.beginJobSheet')
    return
  }
  const title = l10n.t('Set-up sheet of {0}', uri.path.slice(uri.path.lastIndexOf('/') + 1))
  const column = { viewColumn: ViewColumn.Beside, preserveFocus: true }
  const panel = window.createWebviewPanel('treen.setupSheet', title, column, { localResourceRoots: [] })
  panel.webview.html = result.page
  const keep = l10n.t('Save to Print')
  const message = l10n.t('Save the set-up sheet to print it from a browser.')
  if ((await window.showInformationMessage(message, keep)) === keep) await save(uri, result.page)
}

async function save(uri: Uri, page: string): Promise<void> {
  const name = uri.path.replace(/^.*\//, '').replace(/(\.jobsheet)?\.\w+$/, '')
  // What is in memory only has no folder to keep a page in.
  const folder = uri.scheme === 'treen-sample' ? workspace.workspaceFolders?.[0]?.uri : Uri.joinPath(uri, '..')
  const target = await window.showSaveDialog({
    defaultUri: folder && Uri.joinPath(folder, `${name}-setups.html`),
    filters: { HTML: ['html'] },
  })
  if (target) await workspace.fs.writeFile(target, new TextEncoder().encode(page))
}
