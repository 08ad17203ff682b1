import { Uri, ViewColumn, window, workspace } from 'vscode'
import type { BaseLanguageClient } from 'vscode-languageclient'
import { type SetupSheetResult, setupSheetRequest } from '../../server/src/features/editorMessages.ts'
import { nonce } from './previews.ts'

/** Shows the set-up sheet of a job beside its text, and offers to keep it as a page that any browser prints. */
export async function openSetupSheet(client: BaseLanguageClient, given: Uri | undefined): Promise<void> {
  const uri = given ?? window.activeTextEditor?.document.uri
  if (!uri) {
    await window.showInformationMessage('Open a program or a job sheet first: the set-up sheet is that of its job.')
    return
  }
  // The check reads the texts that are open.
  await window.showTextDocument(uri, { preserveFocus: false })
  const result = await client.sendRequest<SetupSheetResult>(setupSheetRequest, { uri: uri.toString(), nonce: nonce() })
  if ('why' in result) {
    await window.showInformationMessage(result.why)
    return
  }
  const title = `Set-up sheet of ${uri.path.slice(uri.path.lastIndexOf('/') + 1)}`
  const column = { viewColumn: ViewColumn.Beside, preserveFocus: true }
  const panel = window.createWebviewPanel('treen.setupSheet', title, column, { localResourceRoots: [] })
  panel.webview.html = result.page
  const keep = 'Save to Print'
  const chosen = await window.showInformationMessage('Save the set-up sheet to print it from a browser.', keep)
  if (chosen === keep) await save(uri, result.page)
}

async function save(uri: Uri, page: string): Promise<void> {
  const name = uri.path.replace(/^.*\//, '').replace(/(\.jobsheet)?\.\w+$/, '')
  const target = await window.showSaveDialog({
    defaultUri: Uri.joinPath(uri, '..', `${name}-setups.html`),
    filters: { HTML: ['html'] },
  })
  if (target) await workspace.fs.writeFile(target, new TextEncoder().encode(page))
}
