import type {
  CodeAction,
  CodeActionParams,
  CodeLens,
  CodeLensParams,
  CompletionItem,
  CompletionParams,
  Connection,
  DidChangeConfigurationParams,
  DidChangeTextDocumentParams,
  DidChangeWatchedFilesParams,
  DidCloseTextDocumentParams,
  DidOpenTextDocumentParams,
  DocumentDiagnosticParams,
  DocumentDiagnosticReport,
  DocumentLink,
  DocumentLinkParams,
  Hover,
  HoverParams,
  Position,
} from 'vscode-languageserver'
import {
  CodeActionKind,
  CodeLensRefreshRequest,
  InlayHintRefreshRequest,
  MessageType,
  ShowMessageNotification,
} from 'vscode-languageserver'
import { type Checked, type CheckSettings, checkUris, isSheet } from '../features/check.ts'
import {
  type BeginSheetParams,
  type BeginSheetResult,
  type CheckFilesParams,
  type CheckFilesResult,
  type OperationParams,
  type OperationResult,
  type OperationsParams,
  type OperationsResult,
  type PreviewParams,
  type PreviewResult,
  type SetupSheetParams,
  type SetupSheetResult,
  verdictNotification,
} from '../features/editorMessages.ts'
import { jobOf } from '../features/firstJob.ts'
import { lineReport } from '../features/lineReport.ts'
import { offersFor } from '../features/offers.ts'
import { previewJobOf } from '../features/preview/pack.ts'
import { jobToText } from '../features/preview/wire.ts'
import { setupSheetPage } from '../features/setupSheet/page.ts'
import { beginSheet } from '../features/sheet/beginSheet.ts'
import { verdictOf } from '../features/verdict.ts'
import { fileName, normalUri } from '../job/uris.ts'
import type { Workspace } from '../job/workspace.ts'
import type { Program } from '../machine/program.ts'
import { Checker } from './checker.ts'
import type { Client } from './client.ts'
import { codeActionsOf, wants } from './codeActions.ts'
import { Comparing } from './comparing.ts'
import { diagnosticsOf, type Putting } from './diagnostics.ts'
import { Documents, linesOf } from './documents.ts'
import { clientWorkspace, routedWorkspace, Snapshot } from './editorWorkspace.ts'
import { type LineText, positionIn, rangeOut } from './encoding.ts'
import { type AllOfKind, FIX_ALL, Fixes } from './fixes.ts'
import { faultText } from './handling.ts'
import { Inserting } from './inserting.ts'
import type { Place } from './languageServer.ts'
import { OpenProgram } from './openProgram.ts'
import { withProgress } from './progress.ts'
import { Publisher } from './publisher.ts'
import { Reading } from './reading.ts'
import { type Desk, Rewriting } from './rewriting.ts'
import { settingsOf } from './settings.ts'
import { type OpenSheet, Sheets } from './sheets.ts'

/** One editor's open texts and what we tell it of them. */
export class EditorSession {
  readonly client: Client
  readonly #connection: Connection
  readonly #place: Place
  readonly #documents = new Documents()
  readonly #files: Workspace
  readonly #publisher: Publisher
  readonly #checker: Checker
  readonly #sheets: Sheets
  readonly #fixes: Fixes
  /** Hovers, hints and figures over the lines of programs. */
  readonly reading: Reading
  /** Completion and operations. */
  readonly #inserting: Inserting
  /** Lines written anew. */
  readonly rewriting: Rewriting
  /** What is told of a program beside another text of it, or from a line on. */
  readonly comparing: Comparing
  /** What a client that cannot be asked has told last. */
  #toldSettings: unknown

  constructor(connection: Connection, client: Client, place: Place) {
    this.client = client
    this.#connection = connection
    this.#place = place
    this.#documents.encoding = client.encoding
    this.#files = routedWorkspace(place.disk, client.options.clientFiles ? clientWorkspace(connection) : undefined)
    this.#publisher = new Publisher(connection, this.#documents, client)
    this.#checker = new Checker(this.#documents, this.#files, {
      settings: uri => this.#settings(uri),
      show: (file, findings) => this.#publisher.set(file, diagnosticsOf(findings, this.#put)),
      stands: (uri, checks) => this.#stands(uri, checks),
      watch: (abort, work) => withProgress(connection, client.showsProgress, 'Working out the job', abort, work),
      fault: error => connection.console.error(faultText('check', error)),
    })
    this.#sheets = new Sheets(client, this.#checker, this.#files, this.#put)
    this.#fixes = new Fixes(client, this.#checker, this.#documents, this.#put)
    const desk: Desk = {
      client,
      checker: this.#checker,
      documents: this.#documents,
      openProgram: uri => this.openProgram(uri),
      settings: uri => this.#settings(uri),
      files: () => new Snapshot(this.#documents, this.#files),
      tell: message => {
        void connection.sendNotification(ShowMessageNotification.type, { type: MessageType.Info, message })
      },
    }
    this.rewriting = new Rewriting(desk)
    this.comparing = new Comparing(desk)
    this.#inserting = new Inserting(client, this.#checker, uri => this.#settings(uri))
    this.reading = new Reading(client, this.#checker, uri => this.#written(uri))
  }

  opened({ textDocument }: DidOpenTextDocumentParams): void {
    const uri = this.#documents.open(textDocument)
    this.#publisher.opened(uri)
    this.#checker.changed(uri)
  }

  changed(params: DidChangeTextDocumentParams): void {
    this.#checker.changed(this.#documents.change(params))
  }

  closed({ textDocument }: DidCloseTextDocumentParams): void {
    const uri = this.#documents.close(textDocument.uri)
    this.#publisher.closed(uri)
    this.#checker.closed(uri)
  }

  filesChanged({ changes }: DidChangeWatchedFilesParams): void {
    this.#checker.outside(changes.map(change => normalUri(change.uri)))
  }

  settingsChanged({ settings }: DidChangeConfigurationParams): void {
    this.#toldSettings = settings
    this.#checker.outside()
  }

  async pull(params: DocumentDiagnosticParams, signal: AbortSignal): Promise<DocumentDiagnosticReport> {
    const { resultId, items } = await this.#publisher.pull(normalUri(params.textDocument.uri), signal)
    if (params.previousResultId === resultId) return { kind: 'unchanged', resultId }
    return { kind: 'full', resultId, items: [...items] }
  }

  hover({ textDocument, position }: HoverParams, signal: AbortSignal): Promise<Hover | null> | Hover | null {
    const uri = normalUri(textDocument.uri)
    const open = this.openProgram(uri)
    if (!open) {
      return this.#onSheet({ textDocument }, null, sheet =>
        this.#sheets.hover(sheet, this.#placeIn(uri, position), signal),
      )
    }
    return this.reading.hover(open, position)
  }

  codeLenses(params: CodeLensParams, signal: AbortSignal): Promise<CodeLens[]> | CodeLens[] {
    const open = this.openProgram(params.textDocument.uri)
    if (open) return this.reading.lenses(open, signal)
    return this.#onSheet(params, [], sheet => this.#sheets.lenses(sheet, signal))
  }

  documentLinks(params: DocumentLinkParams): DocumentLink[] {
    return this.#onSheet(params, [], sheet => this.#sheets.links(sheet))
  }

  completions(params: CompletionParams, signal: AbortSignal): Promise<CompletionItem[]> | CompletionItem[] {
    const open = this.openProgram(params.textDocument.uri)
    if (open) return this.#inserting.completions(open, params.position, signal)
    return this.#onSheet(params, [], sheet =>
      this.#sheets.completions(sheet, this.#placeIn(sheet.uri, params.position)),
    )
  }

  async operations(params: OperationsParams, signal: AbortSignal): Promise<OperationsResult> {
    const open = this.openProgram(params.uri)
    return open ? this.#inserting.operations(open, params, signal) : { why: 'Open the program first.' }
  }

  async operation(params: OperationParams, signal: AbortSignal): Promise<OperationResult> {
    const open = this.openProgram(params.uri)
    const files = new Snapshot(this.#documents, this.#files)
    return open ? this.#inserting.operation(open, params, files, signal) : { why: 'Open the program first.' }
  }

  /** A program that is open; undefined for sheets and for texts that are not. */
  openProgram(spelling: string): OpenProgram | undefined {
    const uri = normalUri(spelling)
    const document = this.#documents.get(uri)
    if (!document || isSheet(uri)) return undefined
    return new OpenProgram(document, this.#documents.spelled(uri), this.client.encoding, () =>
      programOf(this.#checker.knownChecksOf(uri) ?? [], uri),
    )
  }

  async codeActions(params: CodeActionParams, signal: AbortSignal): Promise<CodeAction[]> {
    const uri = normalUri(params.textDocument.uri)
    const { only } = params.context
    const actions: CodeAction[] = []
    if (wants(only, CodeActionKind.QuickFix)) actions.push(...(await this.#fixesAt(uri, params, signal)))
    actions.push(...(await this.rewriting.actions(params, signal)))
    if (wants(only, CodeActionKind.Refactor)) actions.push(...(await this.#offersFor(uri, signal)))
    // It takes long, so only who asks for it by name is told.
    const all = only && wants(only, FIX_ALL) ? await this.#fixAll(uri, undefined, signal) : undefined
    return all ? [...actions, all] : actions
  }

  /** What is offered for a program of which no job is known. */
  async #offersFor(uri: string, signal: AbortSignal): Promise<CodeAction[]> {
    const checks = await this.#checker.checksOf(uri, signal)
    const program = programOf(checks, uri)
    const version = this.#documents.version(uri)
    if (isSheet(uri) || !program || version === undefined || checks.some(check => check.outcome)) return []
    const asked = { uri: this.#documents.spelled(uri), version, client: this.client }
    return codeActionsOf(offersFor(fileName(uri), program), asked)
  }

  async #fixesAt(uri: string, params: CodeActionParams, signal: AbortSignal): Promise<CodeAction[]> {
    await this.#checker.checksOf(uri, signal)
    const range = { start: this.#placeIn(uri, params.range.start), end: this.#placeIn(uri, params.range.end) }
    if (this.#checker.foundAt(uri, range).length === 0) return []
    const files = new Snapshot(this.#documents, this.#files)
    const fixes = await this.#fixes.at(uri, range, params, files, await this.#settings(uri), signal)
    // What was tried on a text that has gone since is worth nothing.
    if (!files.current()) return []
    return this.client.resolvesEdits ? [...fixes, ...this.#fixes.ofKinds(uri, range)] : fixes
  }

  /** The action that mends the whole text, where it is asked for by name. */
  async #fixAll(uri: string, code: string | undefined, signal: AbortSignal): Promise<CodeAction | undefined> {
    const files = new Snapshot(this.#documents, this.#files)
    const action = await this.#fixes.all(uri, code, files, await this.#settings(uri), signal)
    return files.current() ? action : undefined
  }

  /** The edit of an action that was chosen. */
  async resolveAction(action: CodeAction, signal: AbortSignal): Promise<CodeAction> {
    const data = action.data as AllOfKind | undefined
    if (!data || !('code' in data)) return this.rewriting.resolve(action, signal)
    const uri = normalUri(data.uri)
    const all = await this.#fixAll(uri, data.code, signal)
    return all ? { ...action, edit: all.edit } : action
  }

  async preview(params: PreviewParams, signal: AbortSignal): Promise<PreviewResult> {
    const uri = normalUri(params.uri)
    if (!this.#documents.get(uri)) return { why: 'The text that this preview belongs to was closed.' }
    const checks = await this.#checker.checksOf(uri, signal)
    const job = jobOf(checks)
    return 'why' in job ? job : { job: jobToText(previewJobOf(job.outcome, params.copy, job.findings)) }
  }

  async setupSheet({ uri, nonce }: SetupSheetParams, signal: AbortSignal): Promise<SetupSheetResult> {
    const known = normalUri(uri)
    if (!this.#documents.get(known)) return { why: 'Open the program or the job sheet first.' }
    const checks = await this.#checker.checksOf(known, signal)
    const job = jobOf(checks)
    return 'why' in job ? job : { page: setupSheetPage(job.outcome, job.findings, nonce) }
  }

  async checkFiles({ uris, folder }: CheckFilesParams, signal: AbortSignal): Promise<CheckFilesResult> {
    const files = new Snapshot(this.#documents, this.#files)
    const root = normalUri(folder)
    const { findings } = await checkUris(files, uris.map(normalUri), await this.#settings(root), signal)
    const nameOf = (uri: string) => decodeURIComponent(uri.startsWith(`${root}/`) ? uri.slice(root.length + 1) : uri)
    const errors = findings.filter(({ severity }) => severity === 'error').length
    return { report: lineReport(findings, nameOf), errors, findings: findings.length }
  }

  beginSheet(params: BeginSheetParams): Promise<BeginSheetResult | null> {
    return beginSheet(new Snapshot(this.#documents, this.#files), params)
  }

  /** Answers for an open job sheet; `otherwise` for every other text. */
  #onSheet<R, N>(
    { textDocument }: { readonly textDocument: { readonly uri: string } },
    otherwise: N,
    answer: (sheet: OpenSheet) => R,
  ): R | N {
    const uri = normalUri(textDocument.uri)
    const document = this.#documents.get(uri)
    return document && isSheet(uri) ? answer({ uri, text: document.getText() }) : otherwise
  }

  /** A position of the client's in our columns. */
  #placeIn(uri: string, position: Position): Position {
    return positionIn(this.client.encoding, this.#linesOf(uri), position)
  }

  readonly #put: Putting = {
    pageOf: code => this.#pageOf(code),
    rangeOut: (file, range) => rangeOut(this.client.encoding, this.#linesOf(file), range),
    uriOut: uri => this.#documents.spelled(uri),
    related: () => this.client.showsRelated,
  }

  #pageOf(code: string): string | undefined {
    const { rulePages } = this.client.options
    if (rulePages !== undefined) return rulePages.replace('{code}', encodeURIComponent(code))
    return this.#place.pages && `${this.#place.pages}/${code}.md`
  }

  #linesOf(file: string): LineText {
    const document = this.#documents.get(file)
    if (document) return linesOf(document)
    const check = this.#checker.checkOfFile(file)
    const program = check?.programs.get(file)
    if (program) return line => program.lineText(line)
    const lines = check?.outcome?.document.uri === file ? check.outcome.document.text.split(/\r?\n/) : []
    return line => lines[line] ?? ''
  }

  async #settings(uri: string): Promise<CheckSettings> {
    return settingsOf(await this.#written(uri), this.client.roots.map(normalUri))
  }

  /** What a person has set under our name, for a file. */
  async #written(uri: string): Promise<unknown> {
    if (!this.client.tellsSettings) return sectionOf(this.#toldSettings)
    const scopeUri = this.#documents.spelled(uri)
    return this.#connection.workspace.getConfiguration({ scopeUri, section: 'treen' })
  }

  #stands(uri: string, checks: readonly Checked[] | undefined): void {
    // What stands over and between the lines changes with the other texts of a job, of which the editor thinks nothing.
    if (checks && this.client.refreshesLenses) {
      void this.#connection.sendRequest(CodeLensRefreshRequest.type).catch(() => {})
    }
    if (checks && !isSheet(uri) && this.client.refreshesHints) {
      void this.#connection.sendRequest(InlayHintRefreshRequest.type).catch(() => {})
    }
    if (!this.client.options.verdicts) return
    const verdict = checks
      ? verdictOf(checks)
      : { state: 'checking', errors: 0, warnings: 0, line: 'checking', details: [] }
    void this.#connection.sendNotification(verdictNotification, { uri: this.#documents.spelled(uri), ...verdict })
  }
}

/** Clients that only tell settings wrap them in the section's name, or do not. */
function sectionOf(settings: unknown): unknown {
  return typeof settings === 'object' && settings !== null && 'treen' in settings ? settings.treen : settings
}

function programOf(checks: readonly Checked[], uri: string): Program | undefined {
  for (const check of checks) {
    const program = check.programs.get(uri)
    if (program) return program
  }
  return undefined
}
