import { type CodeAction, CodeActionKind, type WorkspaceEdit } from 'vscode-languageserver'
import type { Offer } from '../features/offers.ts'
import { folderOf, within } from '../job/uris.ts'

/** What is needed to put an offer as an edit. */
export interface Asked {
  /** The client's spelling of the program's URI. */
  readonly uri: string
  readonly version: number
  /** The client can create files by an edit. */
  readonly createsFiles: boolean
}

export function codeActionsOf(offers: readonly Offer[], asked: Asked): CodeAction[] {
  return offers.flatMap(offer => {
    const edit = editOf(offer, asked)
    return edit ? [{ title: offer.title, kind: CodeActionKind.Refactor, edit }] : []
  })
}

function editOf(offer: Offer, { uri, version, createsFiles }: Asked): WorkspaceEdit | undefined {
  if ('insert' in offer) {
    const start = { line: offer.insert.line, character: 0 }
    const edits = [{ range: { start, end: start }, newText: offer.insert.text }]
    return createsFiles
      ? { documentChanges: [{ textDocument: { uri, version }, edits }] }
      : { changes: { [uri]: edits } }
  }
  if (!createsFiles) return undefined
  const sheet = within(folderOf(uri), offer.create.fileName)
  const start = { line: 0, character: 0 }
  return {
    documentChanges: [
      { kind: 'create', uri: sheet, options: { ignoreIfExists: false, overwrite: false } },
      {
        textDocument: { uri: sheet, version: null },
        edits: [{ range: { start, end: start }, newText: offer.create.text }],
      },
    ],
  }
}
