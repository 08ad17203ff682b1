import { commands, type Disposable, type ExtensionContext, l10n, type Uri, window, workspace } from 'vscode'
import type { BaseLanguageClient } from 'vscode-languageclient'
import type { Range } from '../../server/src/syntax/source.ts'
import { beginJobSheet, beginJobSheetOfFolder } from './beginJobSheet.ts'
import { showFirstFinding, showFirstFix } from './findings.ts'
import { provideFolderTasks } from './folderTasks.ts'
import { Front } from './front.ts'
import { insertOperation } from './insertOperation.ts'
import type { Ends } from './languageClient.ts'
import { Previews } from './previews.ts'
import { resumeFromLine } from './resume.ts'
import { rewriteLines } from './rewriting.ts'
import { registerRulePages } from './rulePages.ts'
import { SampleFiles, sampleScheme, shippedSamples } from './sampleFiles.ts'
import { copySampleJob, openSampleJob } from './sampleJobs.ts'
import { Server } from './server.ts'
import { openSetupSheet } from './setupSheet.ts'
import { showFrom } from './showFrom.ts'
import { Verdicts } from './verdicts.ts'
import { Changes } from './whatChanged.ts'

/** Puts everything of ours into the editor, and starts the server; the same in both hosts. */
export function start(context: ExtensionContext, load: (ends: Ends) => Promise<BaseLanguageClient>): void {
  const front = new Front()
  const verdicts = new Verdicts()
  const server = new Server(() => load(verdicts), notStarted)
  const previews = new Previews(context, server, verdicts.event)
  const changes = new Changes(server)
  const samples = once(() => shippedSamples(context.extensionUri))
  const inFront = (then: (uri: Uri) => Promise<void>) => async (given?: Uri | string) => {
    const uri = await front.find(given)
    if (uri) await then(uri)
  }
  const ours: Record<string, (...given: never[]) => unknown> = {
    'treen.openPreview': inFront(uri => previews.open(uri)),
    // Of a lens: it is no command for the palette.
    'treen.showFrom': (program?: unknown, line?: unknown) => showFrom(previews, program, line),
    'treen.openSetupSheet': inFront(uri => openSetupSheet(server, uri)),
    'treen.insertOperation': () => insertOperation(server),
    'treen.beginJobSheet': () => beginJobSheet(server),
    'treen.beginJobSheetOfFolder': (folder?: Uri) => beginJobSheetOfFolder(server, folder),
    'treen.showFirstFinding': () => showFirstFinding(front, verdicts),
    'treen.showFirstFix': () => showFirstFix(front, verdicts, server),
    'treen.openSampleJob': (name?: unknown) => openSampleJob(name),
    'treen.copySampleJob': () => copySampleJob(samples),
    'treen.openFirstSteps': () =>
      commands.executeCommand('workbench.action.openWalkthrough', `${context.extension.id}#firstSteps`, false),
    'treen.resume': () => resumeFromLine(server),
    'treen.whatChanged': () => changes.show(),
    'treen.rewrite': (id?: string, uri?: string, range?: Range) => rewriteLines(server, id, uri, range),
    'treen.restartServer': () => {
      verdicts.forget()
      return server.restart()
    },
  }
  context.subscriptions.push(
    server,
    front,
    verdicts,
    previews,
    changes,
    workspace.registerFileSystemProvider(sampleScheme, new SampleFiles(samples), { isCaseSensitive: true }),
    provideFolderTasks(server),
    ...registerRulePages(context.extensionUri),
    ...Object.entries(ours).map(([name, run]): Disposable => commands.registerCommand(name, run)),
  )
  void commands.executeCommand('setContext', 'treen.running', true)
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
