import { commands, type Disposable, type ExtensionContext, l10n, type Uri, window, workspace } from 'vscode'
import type { BaseLanguageClient, LanguageClientOptions } from 'vscode-languageclient'
import {
  type InitializationOptions,
  type Verdict,
  verdictNotification,
} from '../../server/src/features/editorMessages.ts'
import { beginJobSheet, beginJobSheetOfFolder } from './beginJobSheet.ts'
import { answerForFiles } from './files.ts'
import { showFirstFinding, showFirstFix } from './findings.ts'
import { provideFolderTasks } from './folderTasks.ts'
import { Front } from './front.ts'
import { Previews } from './previews.ts'
import { Restarts } from './restarts.ts'
import { registerRulePages } from './rulePages.ts'
import { SampleFiles, sampleScheme, shippedSamples } from './sampleFiles.ts'
import { copySampleJob, openSampleJob } from './sampleJobs.ts'
import { openSetupSheet } from './setupSheet.ts'
import { showFrom } from './showFrom.ts'
import { Verdicts } from './verdicts.ts'

const initializationOptions: InitializationOptions = {
  // A file of the extension cannot be opened on the web; a command shows the same page in both hosts.
  rulePages: `command:treen.openRulePage?${encodeURIComponent('["')}{code}${encodeURIComponent('"]')}`,
  clientFiles: true,
  verdicts: true,
  previews: true,
  // The built-in JSON service has the schema from the manifest.
  knowsSchema: true,
}

/** Puts everything of ours into the editor, and starts the server; the same in both hosts. */
export function start(
  context: ExtensionContext,
  newClient: (options: LanguageClientOptions) => BaseLanguageClient,
): void {
  const restarts = new Restarts()
  const client = newClient({
    documentSelector: [{ language: 'gcode' }, { pattern: '**/*.jobsheet.json' }],
    initializationOptions,
    markdown: { isTrusted: false, supportHtml: false },
    errorHandler: restarts,
  })
  answerForFiles(client)
  const front = new Front()
  const verdicts = new Verdicts()
  client.onNotification(verdictNotification, (verdict: Verdict) => {
    if (verdict.state !== 'checking') restarts.works()
    verdicts.hear(verdict)
  })
  const previews = new Previews(context, client, verdicts.event)
  const samples = once(() => shippedSamples(context.extensionUri))
  const inFront = (then: (uri: Uri) => Promise<void>) => async (given?: Uri | string) => {
    const uri = await front.find(given)
    if (uri) await then(uri)
  }
  const ours: Record<string, (...given: never[]) => unknown> = {
    'treen.openPreview': inFront(uri => previews.open(uri)),
    // Of a lens: it is no command for the palette.
    'treen.showFrom': (program?: unknown, line?: unknown) => showFrom(previews, program, line),
    'treen.openSetupSheet': inFront(uri => openSetupSheet(client, uri)),
    'treen.beginJobSheet': () => beginJobSheet(client),
    'treen.beginJobSheetOfFolder': (folder?: Uri) => beginJobSheetOfFolder(client, folder),
    'treen.showFirstFinding': () => showFirstFinding(front, verdicts),
    'treen.showFirstFix': () => showFirstFix(front, verdicts),
    'treen.openSampleJob': (name?: unknown) => openSampleJob(name),
    'treen.copySampleJob': () => copySampleJob(samples),
    'treen.openFirstSteps': () =>
      commands.executeCommand('workbench.action.openWalkthrough', `${context.extension.id}#firstSteps`, false),
    'treen.restartServer': () => restart(client, verdicts),
  }
  context.subscriptions.push(
    client,
    front,
    verdicts,
    previews,
    workspace.registerFileSystemProvider(sampleScheme, new SampleFiles(samples), { isCaseSensitive: true }),
    provideFolderTasks(client),
    ...registerRulePages(context.extensionUri),
    ...Object.entries(ours).map(([name, run]): Disposable => commands.registerCommand(name, run)),
  )
  // Not waited for: the editor goes on at once, and what is asked of the server waits for it by itself.
  client.start().catch((error: unknown) => notStarted(error))
  void commands.executeCommand('setContext', 'treen.running', true)
}

async function restart(client: BaseLanguageClient, verdicts: Verdicts): Promise<void> {
  verdicts.forget()
  // One that has been given up, or never came up, has nothing to stop.
  await client.stop().catch(() => {})
  await client.start().catch((error: unknown) => notStarted(error))
}

async function notStarted(error: unknown): Promise<void> {
  const why = error instanceof Error ? error.message : String(error)
  await window.showErrorMessage(l10n.t('The part of Treen that checks could not be started: {0}', why))
}

function once<T>(make: () => Promise<T>): () => Promise<T> {
  let made: Promise<T> | undefined
  return () => {
    made ??= make()
    return made
  }
}
