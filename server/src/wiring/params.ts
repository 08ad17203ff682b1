import * as ours from '../features/editorMessages.ts'

type Check = (value: unknown) => boolean

const isRecord = (value: unknown): value is Record<string, unknown> => typeof value === 'object' && value !== null
const isText: Check = value => typeof value === 'string'
/** Half a character cannot be part of an address. */
const isUri: Check = value => typeof value === 'string' && !/[\ud800-\udfff]/u.test(value)
const isCount: Check = value => Number.isInteger(value) && Number(value) >= 0
const listOf =
  (check: Check): Check =>
  value =>
    Array.isArray(value) && value.every(check)
const having =
  (fields: Readonly<Record<string, Check>>): Check =>
  value =>
    isRecord(value) && Object.entries(fields).every(([name, check]) => check(value[name]))

const isPosition = having({ line: isCount, character: isCount })
const isRange = having({ start: isPosition, end: isPosition })
const isDocument = having({ uri: isUri })
const isVersioned = having({ uri: isUri, version: Number.isInteger })
const isOpened = having({ uri: isUri, version: Number.isInteger, text: isText })
const isChange: Check = value =>
  isRecord(value) && isText(value.text) && (value.range === undefined || isRange(value.range))

const document = having({ textDocument: isDocument })
const place = having({ textDocument: isDocument, position: isPosition })
const stretch = having({ textDocument: isDocument, range: isRange })

/** What the parameters of each message must hold at the least, by LSP 3.17 and by our own description. */
const needs: Readonly<Record<string, Check>> = {
  'textDocument/didOpen': having({ textDocument: isOpened }),
  'textDocument/didChange': having({ textDocument: isVersioned, contentChanges: listOf(isChange) }),
  'textDocument/didClose': document,
  'workspace/didChangeWatchedFiles': having({ changes: listOf(isDocument) }),
  'workspace/didChangeConfiguration': isRecord,
  'textDocument/hover': place,
  'textDocument/completion': place,
  'textDocument/definition': place,
  'textDocument/references': having({ textDocument: isDocument, position: isPosition, context: isRecord }),
  'textDocument/documentHighlight': place,
  'textDocument/prepareRename': place,
  'textDocument/rename': having({ textDocument: isDocument, position: isPosition, newName: isText }),
  'textDocument/selectionRange': having({ textDocument: isDocument, positions: listOf(isPosition) }),
  'textDocument/semanticTokens/range': stretch,
  'textDocument/inlayHint': stretch,
  'textDocument/codeAction': having({
    textDocument: isDocument,
    range: isRange,
    context: having({ diagnostics: listOf(having({ range: isRange })) }),
  }),
  'textDocument/formatting': document,
  'textDocument/rangeFormatting': stretch,
  [ours.resumeRequest]: having({ uri: isUri, line: isCount }),
  [ours.whatChangedRequest]: having({ uri: isUri, before: isText, since: isText }),
  [ours.rewriteRequest]: having({ uri: isUri, rewrite: isText, answer: isText }),
  [ours.operationsRequest]: having({ uri: isUri, line: isCount }),
  [ours.operationRequest]: having({
    uri: isUri,
    line: isCount,
    id: isText,
    values: value => value === undefined || isRecord(value),
  }),
  [ours.previewRequest]: having({ uri: isUri, copy: isText }),
  [ours.setupSheetRequest]: having({ uri: isUri, nonce: isText }),
  [ours.checkFilesRequest]: having({ uris: listOf(isUri), folder: isUri }),
  [ours.beginSheetRequest]: value => isRecord(value) && isUri(value.program ?? value.folder),
}

/**
 * Whether a message holds what its method needs. Looked at once for all, before any handler: none has to ask again.
 * Methods that are not listed need a document, where their name says so.
 */
export function fits(method: string, params: unknown): boolean {
  if (Object.hasOwn(needs, method)) return needs[method](params)
  return !known.has(method) || document(params)
}

/** Those of the rest that we answer, so that one that nobody knows is told as unknown. */
const known = new Set(
  ['documentSymbol', 'foldingRange', 'semanticTokens/full', 'codeLens', 'documentLink', 'diagnostic'].map(
    name => `textDocument/${name}`,
  ),
)
