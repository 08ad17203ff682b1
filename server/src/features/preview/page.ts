import type { ChosenView, PreviewJob } from './protocol.ts'
import { jobToText } from './wire.ts'

/** The parts of the page that the bundler makes, as text. */
export interface PageParts {
  /** `dist/webview.js`. */
  readonly script: string
  /** `dist/webview.css`. */
  readonly style: string
  /** Unguessable, new for each page: only what carries it runs. */
  readonly nonce: string
}

/**
 * The preview as one HTML text that fetches nothing. With a job it stands alone (the job is packed into it); without
 * one it waits for messages, as in the editor.
 * @param view how the piece is looked at when the page is opened; default: the end of the job, on the machine
 */
export function previewPage(job: PreviewJob | undefined, parts: PageParts, view?: ChosenView): string {
  const nonce = escapeMarkup(parts.nonce)
  const policy = [
    "default-src 'none'",
    `script-src 'nonce-${nonce}' 'wasm-unsafe-eval'`,
    'worker-src blob:',
    `style-src 'nonce-${nonce}'`,
    'img-src data: blob:',
  ].join('; ')
  const title = job ? `${job.title} – Treen` : 'Treen'
  return `<!DOCTYPE html>
<html lang="en">
<head>
<meta charset="utf-8">
<meta http-equiv="Content-Security-Policy" content="${policy}">
<meta name="viewport" content="width=device-width, initial-scale=1">
<title>${escapeMarkup(title)}</title>
<style nonce="${nonce}">${parts.style.replaceAll('</style', '<\\/style')}</style>
</head>
<body>
<noscript>This preview is drawn by a script, and scripts are switched off here.</noscript>
${job ? `<script type="application/json" id="job">${jobToText(job).replaceAll('<', '\\u003C')}</script>` : ''}
${view ? `<script type="application/json" id="view">${JSON.stringify(view).replaceAll('<', '\\u003C')}</script>` : ''}
<script nonce="${nonce}">${escapeInScript(parts.script)}</script>
</body>
</html>
`
}

/** Text as it must stand in HTML, in an element or in a quoted attribute. */
export function escapeMarkup(text: string): string {
  return text.replace(/[&<>"']/g, c => `&#${c.charCodeAt(0)};`)
}

/** Keeps a program inside its script element: an end tag or a comment's start (in its strings) would end or hide it. */
function escapeInScript(script: string): string {
  return script.replace(/<(?=\/script|!--|script)/gi, '\\x3C')
}
