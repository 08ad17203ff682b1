import {
  type Connection,
  type DocumentHighlight,
  DocumentHighlightKind,
  type DocumentSymbol,
  type FoldingRange,
  FoldingRangeKind,
  type InlayHint,
  type InlayHintParams,
  type Location,
  LSPErrorCodes,
  type Range,
  ResponseError,
  type SelectionRange,
  type SemanticTokens,
  type ServerCapabilities,
  type SymbolInformation,
  SymbolKind,
  type TextDocumentIdentifier,
  type WorkspaceEdit,
} from 'vscode-languageserver'
import { definitionsOf } from '../features/language/definition.ts'
import { foldsOf } from '../features/language/folding.ts'
import { highlightsAt } from '../features/language/highlight.ts'
import { type Entry, outlineOf } from '../features/language/outline.ts'
import { referencesOf } from '../features/language/references.ts'
import { rename, renameTarget } from '../features/language/rename.ts'
import { selectionsAt } from '../features/language/selection.ts'
import { TOKEN_MODIFIERS, TOKEN_TYPES } from '../features/language/semanticTokens.ts'
import type { EditorSession } from './editorSession.ts'
import { handler } from './handling.ts'
import type { OpenProgram } from './openProgram.ts'
import { allTokens, tokensOfLines } from './semanticTokens.ts'

/** What the server says that it can do with the language. */
export const languageCapabilities: ServerCapabilities = {
  semanticTokensProvider: {
    legend: { tokenTypes: [...TOKEN_TYPES], tokenModifiers: [...TOKEN_MODIFIERS] },
    range: true,
    full: true,
  },
  documentSymbolProvider: true,
  foldingRangeProvider: true,
  selectionRangeProvider: true,
  definitionProvider: true,
  referencesProvider: true,
  renameProvider: { prepareProvider: true },
  documentHighlightProvider: true,
  inlayHintProvider: true,
}

const NOTHING: SemanticTokens = { data: [] }

/** Answers for the language itself: of every open program, whatever is being checked; of a sheet nothing. */
export function registerLanguageFeatures(connection: Connection, session: () => EditorSession): void {
  /** A handler of one program; `empty` where there is none. */
  const of = <P extends { textDocument: TextDocumentIdentifier }, R>(
    name: string,
    empty: R,
    answer: (open: OpenProgram, params: P) => R,
  ) =>
    handler<P, R>(connection, name, empty, params => {
      const open = session().openProgram(params.textDocument.uri)
      return open ? answer(open, params) : empty
    })

  connection.languages.semanticTokens.on(of('colours', NOTHING, open => allTokens(open) as SemanticTokens))
  connection.languages.semanticTokens.onRange(
    of('colours', NOTHING, (open, { range }) => tokensOfLines(open, range.start.line, range.end.line)),
  )
  connection.onDocumentSymbol(
    of<{ textDocument: TextDocumentIdentifier }, DocumentSymbol[] | SymbolInformation[] | null>(
      'outline',
      null,
      open => {
        const entries = outlineOf(open.text, open.program)
        return session().client.nestsSymbols ? symbolsOf(open, entries) : flatSymbolsOf(open, entries)
      },
    ),
  )
  connection.onFoldingRanges(
    of<{ textDocument: TextDocumentIdentifier }, FoldingRange[] | null>('folding', null, open =>
      foldsOf(open.text, open.program).map(({ firstLine, lastLine, kind }) => ({
        startLine: firstLine,
        endLine: lastLine,
        kind: kind === 'comment' ? FoldingRangeKind.Comment : FoldingRangeKind.Region,
      })),
    ),
  )
  connection.onSelectionRanges(
    of('selection', null as SelectionRange[] | null, (open, { positions }) => {
      const places = positions.map(position => open.positionIn(position))
      return selectionsAt(open.text, open.program, places).map(ranges => chained(ranges.map(r => open.rangeOut(r))))
    }),
  )
  connection.onDefinition(
    of('definition', null as Location[] | null, (open, { position }) =>
      definitionsOf(open.text, open.positionIn(position)).map(span => ({ uri: open.uri, range: open.spanOut(span) })),
    ),
  )
  connection.onReferences(
    of('references', null as Location[] | null, (open, { position, context }) =>
      referencesOf(open.text, open.positionIn(position), context.includeDeclaration).map(span => ({
        uri: open.uri,
        range: open.spanOut(span),
      })),
    ),
  )
  connection.onDocumentHighlight(
    of('highlight', null as DocumentHighlight[] | null, (open, { position }) =>
      highlightsAt(open.text, () => open.program, open.positionIn(position)).map(({ span, sets }) => ({
        range: open.spanOut(span),
        kind: sets ? DocumentHighlightKind.Write : DocumentHighlightKind.Read,
      })),
    ),
  )
  connection.languages.inlayHint.on(
    handler<InlayHintParams, InlayHint[]>(connection, 'hints', [], ({ textDocument, range }, signal) => {
      const open = session().openProgram(textDocument.uri)
      return open ? session().reading.hints(open, range, signal) : []
    }),
  )
  connection.onPrepareRename(
    of('rename', null as { range: Range; placeholder: string } | ResponseError<void> | null, (open, { position }) => {
      const target = renameTarget(open.text, open.positionIn(position))
      if (!target) return null
      if ('why' in target) return refusal(target.why)
      return { range: open.spanOut(target.span), placeholder: target.placeholder }
    }),
  )
  connection.onRenameRequest(
    of('rename', null as WorkspaceEdit | ResponseError<void> | null, (open, { position, newName }) => {
      const result = rename(open.text, open.positionIn(position), newName)
      if ('why' in result) return refusal(result.why)
      const edits = result.edits.map(({ span, text }) => ({ range: open.spanOut(span), newText: text }))
      return { changes: { [open.uri]: edits } }
    }),
  )
}

/** Shown to the person who asked, word for word. */
function refusal(why: string): ResponseError<void> {
  return new ResponseError(LSPErrorCodes.RequestFailed, why)
}

const kinds: Record<Entry['kind'], SymbolKind> = {
  operation: SymbolKind.Namespace,
  level: SymbolKind.Field,
  tool: SymbolKind.Class,
  subprogram: SymbolKind.Function,
  parameter: SymbolKind.Variable,
}

function symbolsOf(open: OpenProgram, entries: readonly Entry[]): DocumentSymbol[] {
  return entries.map(({ kind, name, detail, range, at, children }) => ({
    name,
    detail,
    kind: kinds[kind],
    range: open.rangeOut(range),
    selectionRange: open.spanOut(at),
    children: symbolsOf(open, children),
  }))
}

function flatSymbolsOf(open: OpenProgram, entries: readonly Entry[], containerName?: string): SymbolInformation[] {
  return entries.flatMap(({ kind, name, range, children }) => [
    { name, kind: kinds[kind], location: { uri: open.uri, range: open.rangeOut(range) }, containerName },
    ...flatSymbolsOf(open, children, name),
  ])
}

/** The smallest range with the larger ones as its parents. */
function chained(ranges: readonly Range[]): SelectionRange {
  return ranges.reduceRight<SelectionRange | undefined>((parent, range) => ({ range, parent }), undefined)!
}
