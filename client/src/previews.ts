import {
  type Disposable,
  type Event,
  type ExtensionContext,
  l10n,
  Range,
  type TextEditor,
  Uri,
  ViewColumn,
  type WebviewPanel,
  window,
  workspace,
} from 'vscode'
import { type PreviewResult, previewRequest, type Verdict } from '../../server/src/features/editorMessages.ts'
import { previewPage } from '../../server/src/features/preview/page.ts'
import type { FromPreview, ToPreview } from '../../server/src/features/preview/protocol.ts'
import type { Server } from './server.ts'

interface Preview {
  readonly panel: WebviewPanel
  /** The program or sheet that it was opened for. */
  readonly uri: Uri
  copy: string
  ready: boolean
  /** Counts what was asked for, so that a late answer never replaces a newer one. */
  asked: number
}

/** The previews that are open, one for each program or sheet: they follow the text, and the text follows them. */
export class Previews implements Disposable {
  readonly #context: ExtensionContext
  readonly #server: Server
  readonly #open = new Map<string, Preview>()
  readonly #listening: Disposable[]

  constructor(context: ExtensionContext, server: Server, verdicts: Event<Verdict>) {
    this.#context = context
    this.#server = server
    this.#listening = [
      window.onDidChangeTextEditorSelection(({ textEditor }) => this.#caretMoved(textEditor)),
      verdicts(verdict => this.#jobChanged(verdict)),
    ]
  }

  /** Opens the preview beside the text, or brings the open one forward. */
  async open(uri: Uri): Promise<void> {
    const known = this.#open.get(uri.toString())
    if (known) {
      known.panel.reveal(undefined, true)
      // It may have been led elsewhere since the caret moved last.
      if (window.activeTextEditor) this.#caretMoved(window.activeTextEditor)
      return
    }
    // The check reads the texts that are open, so the text belongs beside its preview.
    await window.showTextDocument(uri, { preserveFocus: false })
    const title = l10n.t('Preview of {0}', uri.path.slice(uri.path.lastIndexOf('/') + 1))
    const panel = window.createWebviewPanel(
      'treen.preview',
      title,
      { viewColumn: ViewColumn.Beside, preserveFocus: true },
      { enableScripts: true, retainContextWhenHidden: true, localResourceRoots: [] },
    )
    const preview: Preview = { panel, uri, copy: '', ready: false, asked: 0 }
    this.#open.set(uri.toString(), preview)
    panel.onDidDispose(() => this.#open.delete(uri.toString()))
    panel.webview.onDidReceiveMessage((message: FromPreview) => this.#hear(preview, message))
    panel.webview.html = previewPage(undefined, {
      script: await this.#part('dist/webview.js'),
      style: await this.#part('dist/webview.css'),
      nonce: nonce(),
    })
  }

  dispose(): void {
    for (const { panel } of [...this.#open.values()]) panel.dispose()
    for (const listening of this.#listening) listening.dispose()
  }

  async #part(path: string): Promise<string> {
    return new TextDecoder().decode(await workspace.fs.readFile(Uri.joinPath(this.#context.extensionUri, path)))
  }

  #hear(preview: Preview, message: FromPreview): void {
    switch (message.type) {
      case 'ready':
        preview.ready = true
        void this.#send(preview)
        return
      case 'copy':
        preview.copy = message.copy
        void this.#send(preview)
        return
      case 'line':
        void select(Uri.parse(message.program), message.line)
        return
      case 'trouble':
        this.#server.error(`The preview says: ${message.message}`)
    }
  }

  async #send(preview: Preview): Promise<void> {
    const asked = ++preview.asked
    const answer = await this.#answerFor(preview)
    if (asked !== preview.asked || !preview.ready) return
    await preview.panel.webview.postMessage(answer)
    const editor = window.activeTextEditor
    if (editor) this.#caretMoved(editor)
  }

  async #answerFor({ uri, copy }: Preview): Promise<ToPreview> {
    try {
      const result = await this.#server.sendRequest<PreviewResult>(previewRequest, { uri: uri.toString(), copy })
      return 'job' in result ? { type: 'packed', job: result.job } : { type: 'nothing', why: result.why }
    } catch (error) {
      return { type: 'failed', why: error instanceof Error ? error.message : String(error) }
    }
  }

  #caretMoved(editor: TextEditor): void {
    if (editor.document.languageId !== 'gcode') return
    const message: ToPreview = {
      type: 'caret',
      program: editor.document.uri.toString(),
      line: editor.selection.active.line,
    }
    for (const { panel, ready } of this.#open.values()) if (ready) void panel.webview.postMessage(message)
  }

  /** A check has ended: whatever the preview shows may be another piece of wood now. */
  #jobChanged(verdict: Verdict): void {
    if (verdict.state === 'checking') return
    for (const preview of this.#open.values()) if (preview.ready) void this.#send(preview)
  }
}

/** Selects a line of a program without taking the focus from the preview. */
async function select(uri: Uri, line: number): Promise<void> {
  const shown = window.visibleTextEditors.find(editor => editor.document.uri.toString() === uri.toString())
  const selection = new Range(line, 0, line, Number.MAX_SAFE_INTEGER)
  const viewColumn = shown?.viewColumn ?? ViewColumn.One
  await window.showTextDocument(uri, { viewColumn, preserveFocus: true, selection })
}

/** Unguessable: only scripts that carry it run in the page. */
export function nonce(): string {
  return Array.from(crypto.getRandomValues(new Uint8Array(16)), byte => byte.toString(16).padStart(2, '0')).join('')
}
