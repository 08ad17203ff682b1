import type { InitializeParams, TextEdit, WorkspaceEdit } from 'vscode-languageserver'
import type { InitializationOptions } from '../features/editorMessages.ts'
import { chooseEncoding, type Encoding } from './encoding.ts'

/** What the client on the other side can do, read once. */
export class Client {
  readonly encoding: Encoding
  readonly pulls: boolean
  readonly refreshes: boolean
  readonly refreshesLenses: boolean
  readonly refreshesHints: boolean
  /** A client that says nothing of what it shows in hovers is taken to show Markdown. */
  readonly readsMarkdown: boolean
  readonly showsRelated: boolean
  readonly showsProgress: boolean
  readonly createsFiles: boolean
  /** Its edits say which version of a text they are for. */
  readonly editsVersions: boolean
  readonly watchesFiles: boolean
  readonly tellsSettings: boolean
  readonly registersSettings: boolean
  readonly nestsSymbols: boolean
  /** It asks for the edit of an action when one is chosen. */
  readonly resolvesEdits: boolean
  /** Completions may have places in them to type in. */
  readonly takesSnippets: boolean
  readonly options: InitializationOptions
  /** URIs of the folders open in it. */
  readonly roots: readonly string[]

  constructor({ capabilities, workspaceFolders, rootUri, initializationOptions }: InitializeParams) {
    const { general, textDocument, workspace, window } = capabilities ?? {}
    this.encoding = chooseEncoding(general?.positionEncodings)
    this.pulls = textDocument?.diagnostic !== undefined
    this.refreshes = workspace?.diagnostics?.refreshSupport === true
    this.refreshesLenses = workspace?.codeLens?.refreshSupport === true
    this.refreshesHints = workspace?.inlayHint?.refreshSupport === true
    this.readsMarkdown = textDocument?.hover?.contentFormat?.includes('markdown') ?? true
    this.showsRelated =
      textDocument?.publishDiagnostics?.relatedInformation === true ||
      textDocument?.diagnostic?.relatedInformation === true
    this.showsProgress = window?.workDoneProgress === true
    this.editsVersions = workspace?.workspaceEdit?.documentChanges === true
    this.createsFiles =
      workspace?.workspaceEdit?.documentChanges === true &&
      workspace.workspaceEdit.resourceOperations?.includes('create') === true
    this.watchesFiles = workspace?.didChangeWatchedFiles?.dynamicRegistration === true
    this.tellsSettings = workspace?.configuration === true
    this.registersSettings = workspace?.didChangeConfiguration?.dynamicRegistration === true
    this.nestsSymbols = textDocument?.documentSymbol?.hierarchicalDocumentSymbolSupport === true
    this.resolvesEdits = textDocument?.codeAction?.resolveSupport?.properties.includes('edit') === true
    this.takesSnippets = textDocument?.completion?.completionItem?.snippetSupport === true
    this.options = isOptions(initializationOptions) ? initializationOptions : {}
    this.roots = workspaceFolders?.map(folder => folder.uri) ?? (rootUri ? [rootUri] : [])
  }

  /** Edits of one text, for its present version where this client's edits can say so. */
  editOf(uri: string, version: number | null, edits: TextEdit[]): WorkspaceEdit {
    return this.editsVersions
      ? { documentChanges: [{ textDocument: { uri, version }, edits }] }
      : { changes: { [uri]: edits } }
  }
}

function isOptions(value: unknown): value is InitializationOptions {
  return typeof value === 'object' && value !== null && !Array.isArray(value)
}
