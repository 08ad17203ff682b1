import { window, workspace } from 'vscode'
import { type ResumeParams, type ResumeResult, resumeRequest } from '../../server/src/features/editorMessages.ts'
import type { Server } from './server.ts'

/** Opens a program that starts again from the line of the caret, as a text that is nobody's file yet. */
export async function resumeFromLine(server: Server): Promise<void> {
  const editor = window.activeTextEditor
  if (editor?.document.languageId !== 'gcode') return
  const params: ResumeParams = { uri: editor.document.uri.toString(), line: editor.selection.active.line }
  const result = await server.sendRequest<ResumeResult>(resumeRequest, params)
  if ('why' in result) {
    await window.showWarningMessage(result.why)
    return
  }
  await window.showTextDocument(await workspace.openTextDocument({ language: 'gcode', content: result.text }))
  await window.showInformationMessage(result.notes.join(' '))
}
