import { l10n, Uri, WorkspaceEdit, window, workspace } from 'vscode'
import {
  type BeginSheetParams,
  type BeginSheetResult,
  beginSheetRequest,
} from '../../server/src/features/editorMessages.ts'
import type { Server } from './server.ts'

/** Begins a job sheet for the program in front and shows it; a sheet that is there already is shown as it is. */
export async function beginJobSheet(server: Server): Promise<void> {
  const document = window.activeTextEditor?.document
  if (document?.languageId !== 'gcode') {
    await window.showInformationMessage(l10n.t('Open the program first that the job sheet is to begin with.'))
    return
  }
  const nothing = l10n.t('Nothing in this program cuts yet, so there is no blank to begin with.')
  await begin(server, { program: document.uri.toString() }, nothing)
}

/**
 * The same for all programs of a folder: the one chosen in the explorer, else that of the text in front, else the one
 * that is open.
 */
export async function beginJobSheetOfFolder(server: Server, chosen: Uri | undefined): Promise<void> {
  const front = window.activeTextEditor?.document.uri
  const folder = chosen ?? (front && Uri.joinPath(front, '..')) ?? workspace.workspaceFolders?.[0]?.uri
  if (!folder) {
    await window.showInformationMessage(l10n.t('Open a folder with programs first.'))
    return
  }
  const nothing = l10n.t('No program in this folder cuts anything, so there is no blank to begin with.')
  await begin(server, { folder: folder.toString() }, nothing)
}

async function begin(server: Server, params: BeginSheetParams, nothing: string): Promise<void> {
  const begun = await server.sendRequest<BeginSheetResult | null>(beginSheetRequest, params)
  if (!begun) {
    await window.showInformationMessage(nothing)
    return
  }
  const uri = Uri.parse(begun.uri)
  const edit = new WorkspaceEdit()
  edit.createFile(uri, { ignoreIfExists: true, contents: new TextEncoder().encode(begun.text) })
  await workspace.applyEdit(edit)
  await window.showTextDocument(uri)
}
