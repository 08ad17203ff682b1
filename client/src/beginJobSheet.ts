import { Uri, WorkspaceEdit, window, workspace } from 'vscode'
import type { BaseLanguageClient } from 'vscode-languageclient'
import { type BeginSheetResult, beginSheetRequest } from '../../server/src/features/editorMessages.ts'

/** Begins a job sheet for the program in front and shows it; a sheet that is there already is shown as it is. */
export async function beginJobSheet(client: BaseLanguageClient): Promise<void> {
  const document = window.activeTextEditor?.document
  if (document?.languageId !== 'gcode') {
    await window.showInformationMessage('Open the program first that the job sheet is to begin with.')
    return
  }
  const begun = await client.sendRequest<BeginSheetResult | null>(beginSheetRequest, {
    program: document.uri.toString(),
  })
  if (!begun) {
    await window.showInformationMessage('Nothing in this program cuts yet, so there is no blank to begin with.')
    return
  }
  const uri = Uri.parse(begun.uri)
  const edit = new WorkspaceEdit()
  edit.createFile(uri, { ignoreIfExists: true, contents: new TextEncoder().encode(begun.text) })
  await workspace.applyEdit(edit)
  await window.showTextDocument(uri)
}
