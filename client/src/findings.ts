import {
  type CancellationToken,
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
import type { Server } from './server.ts'
import type { Verdicts } from './verdicts.ts'

interface Found {
  readonly uri: Uri
  readonly diagnostic: Diagnostic
}

/** ms after which a job that has findings is taken to have them elsewhere. */
const longestWait = 5000

/** How often a fix is asked for that was given up. */
const mostTries = 5

/** Shows the gravest finding of the job in front, with what is said of it. */
export async function showFirstFinding(front: Front, verdicts: Verdicts): Promise<void> {
  const uri = await checked(front, verdicts)
  if (!uri) return
  const [first] = findingsFrom(uri)
  if (!first) return nothingFound()
  await select(first)
  // What is said of it opens below the line, with the code that leads to its page.
  await commands.executeCommand('editor.action.marker.next')
}

/** Goes to the gravest finding for which Treen has a fix that it has tried, and opens the list of its fixes. */
export async function showFirstFix(front: Front, verdicts: Verdicts, server: Server): Promise<void> {
  const uri = await checked(front, verdicts)
  if (!uri) return
  const found = findingsFrom(uri)
  if (found.length === 0) return nothingFound()
  const title = l10n.t('Trying fixes on the whole job')
  const options = { location: ProgressLocation.Notification, cancellable: true, title }
  const mendable = await window.withProgress(options, (_, token) => firstMendable(found, server, token))
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
  if (verdict.errors + verdict.warnings > 0) await shown(uri)
  return uri
}

/** A verdict comes a moment before what was found, and that may stand in another folder: not waited for without end. */
function shown(uri: Uri): Promise<void> {
  return new Promise(resolve => {
    const end = () => {
      clearTimeout(timer)
      listening.dispose()
      resolve()
    }
    const timer = setTimeout(end, longestWait)
    const folder = folderOf(uri)
    const there = () => findingsFrom(uri).some(found => found.uri.path.startsWith(folder))
    const listening = languages.onDidChangeDiagnostics(() => {
      if (there()) end()
    })
    if (there()) end()
  })
}

/** The gravest first; of these what is in the text itself, then what is in its folder, each from the top. */
function findingsFrom(uri: Uri): Found[] {
  const folder = folderOf(uri)
  const distance = (found: Uri) => (found.toString() === uri.toString() ? 0 : found.path.startsWith(folder) ? 1 : 2)
  return languages
    .getDiagnostics()
    .filter(([found]) => found.scheme === uri.scheme && found.authority === uri.authority)
    .flatMap(([found, all]) =>
      all.filter(each => each.source === 'treen').map(diagnostic => ({ uri: found, diagnostic })),
    )
    .sort(
      (a, b) =>
        Math.floor(distance(a.uri) / 2) - Math.floor(distance(b.uri) / 2) ||
        a.diagnostic.severity - b.diagnostic.severity ||
        distance(a.uri) - distance(b.uri) ||
        a.uri.path.localeCompare(b.uri.path) ||
        a.diagnostic.range.start.compareTo(b.diagnostic.range.start),
    )
}

const folderOf = ({ path }: Uri) => path.slice(0, path.lastIndexOf('/') + 1)

async function firstMendable(
  found: readonly Found[],
  server: Server,
  token: CancellationToken,
): Promise<Found | 'given up' | undefined> {
  for (const each of found) {
    if (token.isCancellationRequested) return 'given up'
    await workspace.openTextDocument(each.uri)
    const mends = await isMendable(each, server, token)
    if (mends) return each
  }
  return token.isCancellationRequested ? 'given up' : undefined
}

/**
 * Asks the server itself: the editor gives up what it asks when anything moves. The server gives up a trial when a text
 * of the job has changed or was opened; then it is asked again.
 */
async function isMendable({ uri, diagnostic }: Found, server: Server, token: CancellationToken): Promise<boolean> {
  const { start, end } = diagnostic.range
  const params = {
    textDocument: { uri: uri.toString() },
    range: {
      start: { line: start.line, character: start.character },
      end: { line: end.line, character: end.character },
    },
    context: { diagnostics: [] },
  }
  for (let tries = 0; tries < mostTries && !token.isCancellationRequested; tries++) {
    try {
      const actions = await server.sendRequest<readonly { kind?: string }[] | null>('textDocument/codeAction', params)
      return actions?.some(({ kind }) => kind === CodeActionKind.QuickFix.value) ?? false
    } catch (error) {
      if (!(error instanceof Error) || !/cancell?ed/i.test(`${error.name} ${error.message}`)) throw error
    }
  }
  return false
}

async function select({ uri, diagnostic: { range } }: Found): Promise<void> {
  const editor = await window.showTextDocument(uri, { preview: false })
  editor.selection = new Selection(range.start, range.start)
  editor.revealRange(range, TextEditorRevealType.InCenterIfOutsideViewport)
}

async function nothingFound(): Promise<void> {
  await window.showInformationMessage(l10n.t('Nothing is found in this job.'))
}
