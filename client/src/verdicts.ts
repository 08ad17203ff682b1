import { type Disposable, type Event, MarkdownString, StatusBarAlignment, ThemeColor, window } from 'vscode'
import type { Verdict } from '../../server/src/features/editorMessages.ts'

const icons: Record<Verdict['state'], string> = {
  checking: '$(sync~spin)',
  clean: '$(pass)',
  findings: '$(warning)',
  'text-only': '$(info)',
}

/** The status item: how the job of the text in front stands. */
export function showVerdicts(verdicts: Event<Verdict>): Disposable[] {
  const item = window.createStatusBarItem('treen.verdict', StatusBarAlignment.Left, 20)
  item.name = 'Treen: verdict of the job'
  item.command = 'workbench.actions.view.problems'
  const known = new Map<string, Verdict>()
  let front = ''
  const update = () => {
    // While a preview has the focus no text does, and the item goes on to tell of the last one.
    front = window.activeTextEditor?.document.uri.toString() ?? front
    const verdict = known.get(front)
    if (!verdict) return item.hide()
    item.text = `${verdict.errors > 0 ? '$(error)' : icons[verdict.state]} ${verdict.line}`
    item.tooltip = tooltipOf(verdict)
    item.backgroundColor = verdict.errors > 0 ? new ThemeColor('statusBarItem.errorBackground') : undefined
    item.show()
  }
  const listening = verdicts(verdict => {
    known.set(verdict.uri, verdict)
    update()
  })
  return [item, listening, window.onDidChangeActiveTextEditor(update)]
}

function tooltipOf({ line, details }: Verdict): MarkdownString {
  const tooltip = new MarkdownString()
  // As text: titles and names come from the sheet, and may hold markup.
  for (const part of [line, ...details]) tooltip.appendText(part).appendMarkdown('\n\n')
  return tooltip
}
