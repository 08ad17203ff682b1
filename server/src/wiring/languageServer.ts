import type {
  Connection,
  DiagnosticServerCancellationData,
  DocumentDiagnosticParams,
  DocumentDiagnosticReport,
  InitializeResult,
} from 'vscode-languageserver'
import {
  DidChangeConfigurationNotification,
  DidChangeWatchedFilesNotification,
  TextDocumentSyncKind,
} from 'vscode-languageserver'
import * as ours from '../features/editorMessages.ts'
import type { Workspace } from '../job/workspace.ts'
import { Client } from './client.ts'
import { EditorSession } from './editorSession.ts'
import { FIX_ALL } from './fixes.ts'
import { answers, handler, listener } from './handling.ts'
import { languageCapabilities, registerLanguageFeatures } from './languageFeatures.ts'
import { registerRewriting, rewritingCapabilities } from './rewritingFeatures.ts'

/** What of a server depends on where it runs. */
export interface Place {
  /** The disk, where there is one. */
  readonly disk?: Workspace
  /** Address of the folder with the rules' pages, where they are files that an editor can open. */
  readonly pages?: string
}

/** Puts a language server on a connection; it says what it can do, and hands everything that it hears to the session. */
export function startServer(connection: Connection, place: Place): void {
  let session: EditorSession | undefined
  const at = () => {
    if (!session) throw new Error('The client has not said initialize')
    return session
  }
  connection.onInitialize((params): InitializeResult => {
    const client = new Client(params)
    session = new EditorSession(connection, client, place)
    return { capabilities: capabilitiesFor(client), serverInfo: { name: 'treen' } }
  })
  connection.onInitialized(
    listener(connection, 'start', async () => {
      // An editor that can be asked to tells of changed settings only when it has been.
      if (at().client.registersSettings) {
        await connection.client.register(DidChangeConfigurationNotification.type, { section: 'treen' })
      }
      if (at().client.watchesFiles) {
        await connection.client.register(DidChangeWatchedFilesNotification.type, {
          watchers: [{ globPattern: '**/*.jobsheet.json' }, { globPattern: '**/*.{nc,ngc,gcode,tap,cnc}' }],
        })
      }
    }),
  )
  connection.onDidOpenTextDocument(listener(connection, 'opening', params => at().opened(params)))
  connection.onDidChangeTextDocument(listener(connection, 'editing', params => at().changed(params)))
  connection.onDidCloseTextDocument(listener(connection, 'closing', params => at().closed(params)))
  connection.onDidChangeWatchedFiles(listener(connection, 'watching', params => at().filesChanged(params)))
  connection.onDidChangeConfiguration(listener(connection, 'settings', params => at().settingsChanged(params)))
  connection.onHover(handler(connection, 'hover', null, (params, signal) => at().hover(params, signal)))
  connection.onCodeAction(handler(connection, 'fixes', [], (params, signal) => at().codeActions(params, signal)))
  connection.onCodeLens(handler(connection, 'figures', [], (params, signal) => at().codeLenses(params, signal)))
  connection.onDocumentLinks(handler(connection, 'links', [], params => at().documentLinks(params)))
  connection.onCompletion(handler(connection, 'completion', [], (params, signal) => at().completions(params, signal)))
  connection.languages.diagnostics.on(
    handler<DocumentDiagnosticParams, DocumentDiagnosticReport, DiagnosticServerCancellationData>(
      connection,
      'diagnostics',
      { kind: 'full', items: [] },
      (params, signal) => at().pull(params, signal),
    ),
  )
  answers<ours.PreviewParams, ours.PreviewResult>(
    connection,
    ours.previewRequest,
    'preview',
    { why: 'The preview could not be made.' },
    (params, signal) => at().preview(params, signal),
  )
  answers<ours.SetupSheetParams, ours.SetupSheetResult>(
    connection,
    ours.setupSheetRequest,
    'set-up sheet',
    { why: 'The set-up sheet could not be made.' },
    (params, signal) => at().setupSheet(params, signal),
  )
  answers<ours.CheckFilesParams, ours.CheckFilesResult>(
    connection,
    ours.checkFilesRequest,
    'check of many files',
    { report: 'The files could not be checked.', errors: 1, findings: 0 },
    (params, signal) => at().checkFiles(params, signal),
  )
  answers<ours.BeginSheetParams, ours.BeginSheetResult | null>(
    connection,
    ours.beginSheetRequest,
    'new sheet',
    null,
    params => at().beginSheet(params),
  )
  answers<ours.OperationsParams, ours.OperationsResult>(
    connection,
    ours.operationsRequest,
    'operations',
    { why: 'The operations could not be reckoned.' },
    (params, signal) => at().operations(params, signal),
  )
  answers<ours.OperationParams, ours.OperationResult>(
    connection,
    ours.operationRequest,
    'operation',
    { why: 'The operation could not be reckoned.' },
    (params, signal) => at().operation(params, signal),
  )
  registerLanguageFeatures(connection, at)
  registerRewriting(connection, at)
  connection.listen()
}

function capabilitiesFor(client: Client): InitializeResult['capabilities'] {
  return {
    positionEncoding: client.encoding,
    textDocumentSync: { openClose: true, change: TextDocumentSyncKind.Incremental },
    hoverProvider: true,
    codeLensProvider: {},
    documentLinkProvider: {},
    completionProvider: { triggerCharacters: ['"', '#', '<', '['] },
    ...languageCapabilities,
    ...rewritingCapabilities,
    codeActionProvider: {
      codeActionKinds: ['quickfix', 'refactor', 'refactor.rewrite', FIX_ALL],
      resolveProvider: true,
    },
    ...(client.pulls
      ? {
          diagnosticProvider: { identifier: 'treen', interFileDependencies: true, workspaceDiagnostics: false },
        }
      : {}),
  }
}
