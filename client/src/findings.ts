import {
  type CancellationToken,
  type CodeAction,
  CodeActionKind,
  commands,
  type Diagnostic,
  l10n,
  languages,
  ProgressLocation,
  Selection,
  TextEditorRevealType,
  type Uri,
  window,
  workspace,
} from 'vscode'
import type { Front } from './front.ts'
import type { Verdicts } from './verdicts.ts'

interface Found {
  readonly uri: Uri
  readonly diagnostic: Diagnostic
}

/** Shows the gravest finding of the job in front, with what is said of it. */
export async function showFirstFinding(front: Front, verdicts: Verdicts): Promise<void> {
  const uri = await checked(front, verdicts)
  if (!uri) return
  const [first] = await findingsFrom(uri)
  if (!first) return nothingFound()
  await select(first)
  await commands.executeCommand('editor.action.showHover')
}

/** Goes to the gravest finding for which Treen has a fix that it has tried, and opens the list of its fixes. */
export async function showFirstFix(front: Front, verdicts: Verdicts): Promise<void> {
  const uri = await checked(front, verdicts)
  if (!uri) return
  const found = await findingsFrom(uri)
  if (found.length === 0) return nothingFound()
  const title = l10n.t('Trying fixes on the whole job')
  const options = { location: ProgressLocation.Notification, cancellable: true, title }
  const mendable = await window.withProgress(options, (_, token) => firstMendable(found, token))
  if (mendable === 'given up') return
  if (!mendable) {
    const message = l10n.t('None of the findings has a fix that holds in the whole job: mend the number by hand.')
    await window.showInformationMessage(message)
    return
  }
  await select(mendable)
  await commands.executeCommand('editor.action.quickFix')
}

/** The text that is asked about, opened, once its check has ended. */
async function checked(front: Front, verdicts: Verdicts): Promise<Uri | undefined> {
  const uri = await front.find(undefined)
  if (!uri) return undefined
  await workspace.openTextDocument(uri)
  const verdict = await verdicts.settled(uri)
  if (verdict.errors + verdict.warnings > 0) await shown()
  return uri
}

/** The editor has asked for what was found: a verdict comes a moment sooner. */
function shown(): Promise<void> {
  return new Promise(resolve => {
    if (ours().length > 0) return resolve()
    const listening = languages.onDidChangeDiagnostics(() => {
      if (ours().length === 0) return
      listening.dispose()
      resolve()
    })
  })
}

function ours(): Found[] {
  return languages
    .getDiagnostics()
    .flatMap(([uri, all]) => all.filter(each => each.source === 'treen').map(diagnostic => ({ uri, diagnostic })))
}

/** The gravest first; of these what is in the text itself, then what is in its folder, each from the top. */
async function findingsFrom(uri: Uri): Promise<Found[]> {
  const folder = uri.path.replace(/[^/]*$/, '')
  const distance = (found: Uri) => {
    if (found.toString() === uri.toString()) return 0
    return found.path.startsWith(folder) ? 1 : 2
  }
  return ours().sort(
    (a, b) =>
      a.diagnostic.severity - b.diagnostic.severity ||
      distance(a.uri) - distance(b.uri) ||
      a.uri.path.localeCompare(b.uri.path) ||
      a.diagnostic.range.start.compareTo(b.diagnostic.range.start),
  )
}

async function firstMendable(
  found: readonly Found[],
  token: CancellationToken,
): Promise<Found | 'given up' | undefined> {
  for (const each of found) {
    if (token.isCancellationRequested) return 'given up'
    await workspace.openTextDocument(each.uri)
    const actions = await commands.executeCommand<CodeAction[]>(
      'vscode.executeCodeActionProvider',
      each.uri,
      each.diagnostic.range,
      CodeActionKind.QuickFix.value,
    )
    const mends = actions.some(({ diagnostics }) =>
      diagnostics?.some(({ code }) => sameCode(code, each.diagnostic.code)),
    )
    if (mends) return each
  }
  return token.isCancellationRequested ? 'given up' : undefined
}

function sameCode(a: Diagnostic['code'], b: Diagnostic['code']): boolean {
  const bare = (code: Diagnostic['code']) => String(typeof code === 'object' ? code.value : code)
  return bare(a) === bare(b)
}

async function select({ uri, diagnostic: { range } }: Found): Promise<void> {
  const editor = await window.showTextDocument(uri, { preview: false })
  editor.selection = new Selection(range.start, range.start)
  editor.revealRange(range, TextEditorRevealType.InCenterIfOutsideViewport)
}

async function nothingFound(): Promise<void> {
  await window.showInformationMessage(l10n.t('Nothing is found in this job.'))
}
