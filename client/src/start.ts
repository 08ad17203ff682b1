import { commands, EventEmitter, type ExtensionContext, Uri } from 'vscode'
import type { BaseLanguageClient, LanguageClientOptions } from 'vscode-languageclient'
import {
  type InitializationOptions,
  type Verdict,
  verdictNotification,
} from '../../server/src/features/editorMessages.ts'
import { beginJobSheet, beginJobSheetOfFolder } from './beginJobSheet.ts'
import { answerForFiles } from './files.ts'
import { Previews } from './previews.ts'
import { registerRulePages } from './rulePages.ts'
import { openSetupSheet } from './setupSheet.ts'
import { showVerdicts } from './verdicts.ts'

const initializationOptions: InitializationOptions = {
  // A file of the extension cannot be opened on the web; a command shows the same page in both hosts.
  rulePages: `command:treen.openRulePage?${encodeURIComponent('["')}{code}${encodeURIComponent('"]')}`,
  clientFiles: true,
  verdicts: true,
  previews: true,
  // The built-in JSON service has the schema from the manifest.
  knowsSchema: true,
}

const clientOptions: LanguageClientOptions = {
  documentSelector: [{ language: 'gcode' }, { pattern: '**/*.jobsheet.json' }],
  initializationOptions,
  markdown: { isTrusted: false, supportHtml: false },
}

/** Starts the server and everything of ours in the editor; the same in both hosts. */
export async function start(
  context: ExtensionContext,
  newClient: (options: LanguageClientOptions) => BaseLanguageClient,
): Promise<void> {
  const client = newClient(clientOptions)
  answerForFiles(client)
  const verdicts = new EventEmitter<Verdict>()
  client.onNotification(verdictNotification, (verdict: Verdict) => verdicts.fire(verdict))
  const previews = new Previews(context, client, verdicts.event)
  context.subscriptions.push(
    client,
    verdicts,
    previews,
    ...showVerdicts(verdicts.event),
    ...registerRulePages(context.extensionUri),
    // A lens of the server's names the text by its address.
    commands.registerCommand('treen.openPreview', (uri?: Uri | string) =>
      previews.open(typeof uri === 'string' ? Uri.parse(uri) : uri),
    ),
    commands.registerCommand('treen.openSetupSheet', (uri?: Uri) => openSetupSheet(client, uri)),
    commands.registerCommand('treen.beginJobSheet', () => beginJobSheet(client)),
    commands.registerCommand('treen.beginJobSheetOfFolder', (folder?: Uri) => beginJobSheetOfFolder(client, folder)),
    commands.registerCommand('treen.restartServer', async () => {
      await client.stop()
      await client.start()
    }),
  )
  await client.start()
}
