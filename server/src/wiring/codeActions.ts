import { type CodeAction, CodeActionKind, type WorkspaceEdit } from 'vscode-languageserver'
import type { Offer } from '../features/offers.ts'
import { folderOf, within } from '../job/uris.ts'
import type { Client } from './client.ts'

/** What is needed to put an offer as an edit. */
export interface Asked {
  /** The client's spelling of the program's URI. */
  readonly uri: string
  readonly version: number
  readonly client: Client
}

/** Whether actions of a kind are asked for: a kind stands for all below it, and who names none wants all. */
export function wants(only: readonly string[] | undefined, kind: string): boolean {
  return only === undefined || only.some(each => each === '' || kind === each || kind.startsWith(`${each}.`))
}

export function codeActionsOf(offers: readonly Offer[], asked: Asked): CodeAction[] {
  return offers.flatMap(offer => {
    const edit = editOf(offer, asked)
    return edit ? [{ title: offer.title, kind: CodeActionKind.Refactor, edit }] : []
  })
}

function editOf(offer: Offer, { uri, version, client }: Asked): WorkspaceEdit | undefined {
  if ('insert' in offer) {
    const start = { line: offer.insert.line, character: 0 }
    const edits = [{ range: { start, end: start }, newText: offer.insert.text }]
    return client.editOf(uri, version, edits)
  }
  if (!client.createsFiles) return undefined
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
