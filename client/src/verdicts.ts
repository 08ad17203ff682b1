import {
  type Disposable,
  EventEmitter,
  l10n,
  MarkdownString,
  StatusBarAlignment,
  type StatusBarItem,
  ThemeColor,
  type Uri,
  window,
} from 'vscode'
import type { Verdict } from '../../server/src/features/editorMessages.ts'

const icons: Record<Verdict['state'], string> = {
  checking: '$(sync~spin)',
  clean: '$(pass)',
  findings: '$(warning)',
  'text-only': '$(info)',
}

/** How the job of each open text stands, and the status item that says it of the text in front. */
export class Verdicts implements Disposable {
  readonly #known = new Map<string, Verdict>()
  readonly #heard = new EventEmitter<Verdict>()
  readonly #item: StatusBarItem
  readonly #listening: readonly Disposable[]
  #front = ''
  readonly event = this.#heard.event

  constructor() {
    this.#item = window.createStatusBarItem('treen.verdict', StatusBarAlignment.Left, 20)
    this.#item.name = l10n.t('Treen: verdict of the job')
    this.#listening = [
      window.onDidChangeActiveTextEditor(() => this.#show()),
      window.tabGroups.onDidChangeTabs(() => this.#show()),
    ]
  }

  hear(verdict: Verdict): void {
    this.#known.set(verdict.uri, verdict)
    this.#show()
    this.#heard.fire(verdict)
  }

  /** The verdict of an open text once its check has ended. */
  settled(uri: Uri): Promise<Verdict> {
    const key = uri.toString()
    const known = this.#known.get(key)
    if (known && known.state !== 'checking') return Promise.resolve(known)
    return new Promise(resolve => {
      const listening = this.event(verdict => {
        if (verdict.uri !== key || verdict.state === 'checking') return
        listening.dispose()
        resolve(verdict)
      })
    })
  }

  /** The server is gone, and what it said with it. */
  forget(): void {
    this.#known.clear()
    this.#item.hide()
  }

  dispose(): void {
    for (const each of this.#listening) each.dispose()
    this.#heard.dispose()
    this.#item.dispose()
  }

  #show(): void {
    // While a preview has the focus no text does, and the item goes on to tell of the last one.
    const nothingOpen = window.tabGroups.all.every(({ tabs }) => tabs.length === 0)
    this.#front = window.activeTextEditor?.document.uri.toString() ?? (nothingOpen ? '' : this.#front)
    const verdict = this.#known.get(this.#front)
    if (!verdict) {
      this.#item.hide()
      return
    }
    const line = lineOf(verdict)
    this.#item.text = `${verdict.errors > 0 ? '$(error)' : icons[verdict.state]} ${line}`
    this.#item.tooltip = tooltipOf(line, verdict)
    this.#item.backgroundColor = verdict.errors > 0 ? new ThemeColor('statusBarItem.errorBackground') : undefined
    // Where no job is known there are no findings of one to list: a job sheet is what comes next.
    this.#item.command = verdict.state === 'text-only' ? 'treen.beginJobSheet' : 'workbench.actions.view.problems'
    this.#item.show()
  }
}

function lineOf({ state, errors, warnings, line }: Verdict): string {
  const error = errors === 0 ? '' : errors === 1 ? l10n.t('1 error') : l10n.t('{0} errors', errors)
  const warning = warnings === 0 ? '' : warnings === 1 ? l10n.t('1 warning') : l10n.t('{0} warnings', warnings)
  const said = [error, warning].filter(part => part !== '').join(', ')
  if (said !== '') return said
  switch (state) {
    case 'checking':
      return l10n.t('checking')
    case 'clean':
      return l10n.t('job checked')
    case 'text-only':
      return l10n.t('text checked, no blank known')
    case 'findings':
      return line
  }
}

function tooltipOf(line: string, { state, details }: Verdict): MarkdownString {
  const tooltip = new MarkdownString()
  const next = state === 'text-only' ? [l10n.t('Press here to begin a job sheet for this program.')] : []
  // As text: titles and names come from the sheet, and may hold markup.
  for (const part of [line, ...details, ...next]) tooltip.appendText(part).appendMarkdown('\n\n')
  return tooltip
}
