import type { JobOutcome } from '../../job/outcome.ts'
import type { Finding } from '../../rules/rule.ts'
import { escapeMarkup } from '../preview/page.ts'
import { lengthsOf } from './markup.ts'
import { setupPage } from './setupPage.ts'
import { STYLE } from './style.ts'

/**
 * The set-up sheet of a job as one HTML text that runs no script and fetches nothing: a page for each set-up, to be
 * printed on A4 or Letter and taken to the machine.
 *
 * @param findings of the job; those of other jobs must be left out
 * @param nonce unguessable, new for each page: only the style that carries it applies
 */
export function setupSheetPage(outcome: JobOutcome, findings: readonly Finding[], nonce: string): string {
  const { sheet } = outcome
  const lengths = lengthsOf(outcome)
  const own = findings.filter(finding => finding.sheet === undefined || finding.sheet === outcome.document.uri)
  const pages = sheet.setups.map(setup => setupPage(setup, own, outcome, lengths))
  const mark = escapeMarkup(nonce)
  return `<!DOCTYPE html>
<html lang="en">
<head>
<meta charset="utf-8">
<meta http-equiv="Content-Security-Policy" content="default-src 'none'; style-src 'nonce-${mark}'">
<meta name="viewport" content="width=device-width, initial-scale=1">
<title>${escapeMarkup(`${sheet.title} – set-up sheet`)}</title>
<style nonce="${mark}">${STYLE}</style>
</head>
<body>
<p class="hint">Print this page, on A4 or Letter: one sheet of paper for each set-up, to tick and to write on at the machine.</p>
${pages.join('\n')}
</body>
</html>
`
}
