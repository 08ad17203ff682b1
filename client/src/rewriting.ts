import { l10n, type QuickPickItem, Range, Uri, WorkspaceEdit, window, workspace } from 'vscode'
import { type RewriteParams, type RewriteResult, rewriteRequest } from '../../server/src/features/editorMessages.ts'
import { type Kind, numbersIn, REWRITES } from '../../server/src/features/rewrites/catalogue.ts'
import type { Range as PlainRange } from '../../server/src/syntax/source.ts'
import type { Server } from './server.ts'

/**
 * Writes lines of a program anew: asks which way and what it needs to know, has the server work it out, and shows what it
 * would do in the editor's own preview before anything is changed.
 * @param id of the rewrite, where it was chosen already
 * @param range as the protocol has it
 */
export async function rewriteLines(server: Server, id?: string, uri?: string, range?: PlainRange): Promise<void> {
  const editor = window.activeTextEditor
  const target = uri === undefined ? editor?.document.uri : Uri.parse(uri)
  if (!target || (uri === undefined && editor?.document.languageId !== 'gcode')) return
  const kind = kinds.find(each => each.id === id) ?? (await choose())
  if (!kind) return
  const answer = kind.question ? await ask(kind) : ''
  if (answer === undefined) return
  const chosen = range ?? (editor?.selection.isEmpty ? undefined : editor?.selection)
  const params: RewriteParams = { uri: target.toString(), range: chosen && plain(chosen), rewrite: kind.id, answer }
  const result = await server.sendRequest<RewriteResult>(rewriteRequest, params)
  if ('why' in result) {
    await window.showWarningMessage(result.why)
    return
  }
  const document = await workspace.openTextDocument(target)
  // What was worked out for another text would land in the wrong places.
  if (document.version !== result.version) return
  const edit = new WorkspaceEdit()
  const label = { label: kind.title, needsConfirmation: true, description: result.notes.join(' ') }
  for (const { range: at, newText } of result.edits) {
    edit.replace(target, new Range(at.start.line, at.start.character, at.end.line, at.end.character), newText, label)
  }
  await workspace.applyEdit(edit, { isRefactoring: true })
}

const kinds: readonly Kind[] = REWRITES

/** Of an editor's own range what the protocol knows. */
function plain({ start, end }: PlainRange): PlainRange {
  return {
    start: { line: start.line, character: start.character },
    end: { line: end.line, character: end.character },
  }
}

async function choose(): Promise<Kind | undefined> {
  const items = kinds.map((kind): QuickPickItem & { rewrite: Kind } => ({ label: kind.title, rewrite: kind }))
  const placeHolder = l10n.t('How to write the lines chosen, or the whole program')
  return (await window.showQuickPick(items, { placeHolder }))?.rewrite
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
