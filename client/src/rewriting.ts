import { type Range, Uri, WorkspaceEdit, window, workspace } from 'vscode'
import type { BaseLanguageClient } from 'vscode-languageclient'
import { type RewriteParams, type RewriteResult, rewriteRequest } from '../../server/src/features/editorMessages.ts'
import { type Kind, numbersIn, REWRITES } from '../../server/src/features/rewrites/catalogue.ts'

/**
 * Writes lines of a program anew: asks which way and what it needs to know, has the server work it out, and shows what it
 * would do in the editor's own preview before anything is changed.
 * @param id of the rewrite, where it was chosen already
 */
export async function rewriteLines(
  client: BaseLanguageClient,
  id: string | undefined,
  uri: string | undefined,
  range: Range | undefined,
): Promise<void> {
  const editor = window.activeTextEditor
  const target = uri === undefined ? editor?.document.uri : Uri.parse(uri)
  if (!target || (uri === undefined && editor?.document.languageId !== 'gcode')) {
    await window.showInformationMessage('Open the program first whose lines are to be written anew.')
    return
  }
  const kind = (REWRITES as readonly Kind[]).find(each => each.id === id) ?? (await choose())
  if (!kind) return
  const answer = kind.question ? await ask(kind) : ''
  if (answer === undefined) return
  const chosen = range ?? (editor?.selection.isEmpty ? undefined : editor?.selection)
  const params: RewriteParams = {
    uri: target.toString(),
    ...(chosen ? { range: client.code2ProtocolConverter.asRange(chosen) } : {}),
    rewrite: kind.id,
    answer,
  }
  const result = await client.sendRequest<RewriteResult>(rewriteRequest, params)
  if ('why' in result) {
    await window.showWarningMessage(`${kind.title}: ${result.why}`)
    return
  }
  const document = await workspace.openTextDocument(target)
  // What was worked out for another text would land in the wrong places.
  if (document.version !== result.version) return
  const edit = new WorkspaceEdit()
  const label = { label: kind.title, needsConfirmation: true, description: result.notes.join(' ') }
  for (const each of result.edits) {
    edit.replace(target, client.protocol2CodeConverter.asRange(each.range), each.newText, label)
  }
  await workspace.applyEdit(edit, { isRefactoring: true })
}

async function choose(): Promise<Kind | undefined> {
  const items = (REWRITES as readonly Kind[]).map(kind => ({ label: kind.title, kind }))
  const placeHolder = 'How the lines chosen, or the whole program, are to be written'
  return (await window.showQuickPick(items, { placeHolder }))?.kind
}

function ask(kind: Kind): Thenable<string | undefined> {
  return window.showInputBox({
    title: kind.title,
    prompt: kind.question?.prompt,
    value: kind.question?.value,
    validateInput: answer => {
      const numbers = numbersIn(kind, answer)
      return typeof numbers === 'string' ? numbers : undefined
    },
  })
}
