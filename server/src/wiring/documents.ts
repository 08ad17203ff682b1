import type {
  DidChangeTextDocumentParams,
  Position as LspPosition,
  TextDocumentContentChangeEvent,
  TextDocumentItem,
} from 'vscode-languageserver'
import { TextDocument } from 'vscode-languageserver-textdocument'
import { normalUri } from '../job/uris.ts'
import { type Encoding, type LineText, positionIn } from './encoding.ts'

/**
 * The texts that the editor has open: they count, whatever the files on the disk say. Kept under the one spelling of
 * their URI that the rest of Treen uses; the editor gets its own spelling back.
 */
export class Documents {
  readonly #open = new Map<string, TextDocument>()
  readonly #spelling = new Map<string, string>()
  encoding: Encoding = 'utf-16'

  open(item: TextDocumentItem): string {
    const uri = this.#heard(item.uri)
    this.#open.set(uri, TextDocument.create(uri, item.languageId, item.version, item.text))
    return uri
  }

  /** Takes the edits of a client in its own encoding; edits of a text that is not open are nobody's. */
  change({ textDocument, contentChanges }: DidChangeTextDocumentParams): string {
    const uri = normalUri(textDocument.uri)
    let document = this.#open.get(uri)
    if (!document) return uri
    for (const change of contentChanges) {
      document = TextDocument.update(document, [this.#toUtf16(document, change)], textDocument.version)
    }
    this.#open.set(uri, TextDocument.update(document, [], textDocument.version))
    return uri
  }

  close(spelling: string): string {
    const uri = normalUri(spelling)
    this.#open.delete(uri)
    return uri
  }

  get(uri: string): TextDocument | undefined {
    return this.#open.get(uri)
  }

  /** undefined where the text is not open. */
  version(uri: string): number | undefined {
    return this.#open.get(uri)?.version
  }

  uris(): string[] {
    return [...this.#open.keys()]
  }

  /** As the editor spells it, where it has spelled it. */
  spelled(uri: string): string {
    return this.#spelling.get(uri) ?? uri
  }

  #heard(spelling: string): string {
    const uri = normalUri(spelling)
    this.#spelling.set(uri, spelling)
    return uri
  }

  #toUtf16(document: TextDocument, change: TextDocumentContentChangeEvent): TextDocumentContentChangeEvent {
    if (!('range' in change)) return change
    const lines = linesOf(document)
    const at = (position: LspPosition) => positionIn(this.encoding, lines, position)
    return { range: { start: at(change.range.start), end: at(change.range.end) }, text: change.text }
  }
}

/** The lines of an open text. */
export function linesOf(document: TextDocument): LineText {
  return line =>
    document.getText({ start: { line, character: 0 }, end: { line: line + 1, character: 0 } }).replace(/[\r\n]+$/, '')
}
