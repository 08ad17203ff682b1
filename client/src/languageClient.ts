import type { BaseLanguageClient, LanguageClientOptions } from 'vscode-languageclient'
import {
  type InitializationOptions,
  type Verdict,
  verdictNotification,
} from '../../server/src/features/editorMessages.ts'
import { answerForFiles } from './files.ts'
import { Restarts } from './restarts.ts'

/** What of the server's words goes where. */
export interface Ends {
  hear(verdict: Verdict): void
}

const initializationOptions: InitializationOptions = {
  // A file of the extension cannot be opened on the web; a command shows the same page in both hosts.
  rulePages: `command:treen.openRulePage?${encodeURIComponent('["')}{code}${encodeURIComponent('"]')}`,
  clientFiles: true,
  verdicts: true,
  previews: true,
  asks: true,
  // The built-in JSON service has the schema from the manifest.
  knowsSchema: true,
}

/** Makes the client of either host ours; it is not started yet. */
export function clientOf(make: (options: LanguageClientOptions) => BaseLanguageClient, ends: Ends): BaseLanguageClient {
  const restarts = new Restarts()
  const client = make({
    documentSelector: [{ language: 'gcode' }, { pattern: '**/*.jobsheet.json' }],
    initializationOptions,
    markdown: { isTrusted: false, supportHtml: false },
    errorHandler: restarts,
  })
  answerForFiles(client)
  client.onNotification(verdictNotification, (verdict: Verdict) => {
    if (verdict.state !== 'checking') restarts.works()
    ends.hear(verdict)
  })
  return client
}
