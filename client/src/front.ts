import { commands, type Disposable, l10n, Uri, window, workspace } from 'vscode'

/** More sheets than this in one list help nobody. */
const mostSheets = 200

/** Whether Treen has anything to say of a text. */
function isOurs({ languageId, uri }: { readonly languageId: string; readonly uri: Uri }): boolean {
  return languageId === 'gcode' || uri.path.endsWith('.jobsheet.json')
}

/**
 * Knows which program or sheet a command is about: the one named, else that in front, else the last that was (a
 * preview, a walkthrough and the list of findings are no texts), else one that the person picks.
 */
export class Front implements Disposable {
  #last: Uri | undefined
  readonly #listening: Disposable

  constructor() {
    this.#note()
    this.#listening = window.onDidChangeActiveTextEditor(() => this.#note())
  }

  dispose(): void {
    this.#listening.dispose()
  }

  /** Takes what menus give (a URI) and what lenses of the server's give (its spelling). */
  async find(given: Uri | string | undefined): Promise<Uri | undefined> {
    if (given !== undefined) return typeof given === 'string' ? Uri.parse(given) : given
    const active = window.activeTextEditor?.document
    if (active && isOurs(active)) return active.uri
    const open = workspace.textDocuments.filter(document => !document.isClosed && isOurs(document))
    const last = open.find(({ uri }) => uri.toString() === this.#last?.toString())
    return last?.uri ?? pick(open.map(({ uri }) => uri))
  }

  #note(): void {
    const document = window.activeTextEditor?.document
    if (document && isOurs(document)) this.#last = document.uri
  }
}

async function pick(open: readonly Uri[]): Promise<Uri | undefined> {
  const sheets = await workspace.findFiles('**/*.jobsheet.json', '**/node_modules/**', mostSheets)
  const choices = [...new Map([...open, ...sheets].map(uri => [uri.toString(), uri])).values()]
  if (choices.length === 1) return choices[0]
  if (choices.length > 1) {
    const items = choices.map(uri => ({ label: workspace.asRelativePath(uri), uri }))
    const placeHolder = l10n.t('Which job? Choose a program or its job sheet.')
    return (await window.showQuickPick(items, { placeHolder }))?.uri
  }
  await nothingOpen()
  return undefined
}

/** What to do where there is nothing to do anything with. */
async function nothingOpen(): Promise<void> {
  const sample = l10n.t('Open a Sample Job')
  const steps = l10n.t('First Steps')
  const message = l10n.t('No program and no job sheet is open, and none is in this folder.')
  const chosen = await window.showInformationMessage(message, sample, steps)
  if (chosen === sample) await commands.executeCommand('treen.openSampleJob')
  if (chosen === steps) await commands.executeCommand('treen.openFirstSteps')
}
