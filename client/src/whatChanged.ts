import {
  commands,
  type Disposable,
  EventEmitter,
  extensions,
  l10n,
  type QuickPickItem,
  Uri,
  window,
  workspace,
} from 'vscode'
import {
  type WhatChangedParams,
  type WhatChangedResult,
  whatChangedRequest,
} from '../../server/src/features/editorMessages.ts'
import type { Server } from './server.ts'

const scheme = 'treen-change'

/** What of the editor's own source control is used: its extension's API, version 1. */
interface SourceControl {
  getAPI(version: 1): { getRepository(uri: Uri): { show(ref: string, path: string): Promise<string> } | null }
}

interface Before extends QuickPickItem {
  readonly text: string
}

/** Shows what the program in front cuts otherwise than its saved or its committed text: as a page beside it. */
export class Changes implements Disposable {
  readonly #server: Server
  readonly #pages = new Map<string, string>()
  readonly #changed = new EventEmitter<Uri>()
  readonly #provider: Disposable

  constructor(server: Server) {
    this.#server = server
    this.#provider = workspace.registerTextDocumentContentProvider(scheme, {
      onDidChange: this.#changed.event,
      provideTextDocumentContent: ({ path }) => this.#pages.get(path) ?? '',
    })
  }

  async show(): Promise<void> {
    const document = window.activeTextEditor?.document
    if (document?.languageId !== 'gcode') return
    const texts = (await this.#before(document.uri)).filter(({ text }) => text !== document.getText())
    if (texts.length === 0) {
      await window.showInformationMessage(l10n.t('The program is as it was saved, and as it was committed.'))
      return
    }
    const placeHolder = l10n.t('Compare with which text')
    const before = texts.length === 1 ? texts[0] : await window.showQuickPick(texts, { placeHolder })
    if (!before) return
    const params: WhatChangedParams = { uri: document.uri.toString(), before: before.text, since: before.label }
    const result = await this.#server.sendRequest<WhatChangedResult>(whatChangedRequest, params)
    if ('why' in result) {
      await window.showInformationMessage(result.why)
      return
    }
    const page = Uri.from({ scheme, path: `${document.uri.path}.md` })
    this.#pages.set(page.path, result.page)
    this.#changed.fire(page)
    await commands.executeCommand('markdown.showPreviewToSide', page)
  }

  /** The texts that the program may be compared with, as far as there are any. */
  async #before(uri: Uri): Promise<Before[]> {
    const found: Before[] = []
    try {
      const text = new TextDecoder().decode(await workspace.fs.readFile(uri))
      found.push({ label: l10n.t('the saved text'), text })
    } catch {
      // Never saved.
    }
    try {
      const git = extensions.getExtension<SourceControl>('vscode.git')
      const repository = (await git?.activate())?.getAPI(1).getRepository(uri)
      const text = await repository?.show('HEAD', uri.fsPath)
      if (text !== undefined) found.push({ label: l10n.t('the committed text'), text })
    } catch {
      // Not under source control, or not yet committed.
    }
    return found
  }

  dispose(): void {
    this.#provider.dispose()
    this.#changed.dispose()
  }
}
