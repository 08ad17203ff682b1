import { fileName } from '../../job/uris.ts'
import { type Finding, GRAVITY } from '../../rules/rule.ts'
import { escapeMarkup } from '../preview/page.ts'
import { block } from './markup.ts'

/** More than this would push the rest of the page off its paper; the count of the others is told. */
const MOST = 6

/** What is still open at a set-up, the gravest first; a set-up without any says so. */
export function openFindings(findings: readonly Finding[]): string {
  if (findings.length === 0) return '<p><b>Findings still open:</b> none.</p>'
  const sorted = [...findings].sort((a, b) => GRAVITY[b.severity] - GRAVITY[a.severity])
  const items = sorted.slice(0, MOST).map(({ severity, file, range, code, message, copies }) => {
    const where = `${fileName(file)}, line ${range.start.line + 1}${copies ? `, copy ${copies.join(', ')}` : ''}`
    return `<li><b>${severity}</b> ${escapeMarkup(`${where}: ${message} [${code}]`)}</li>`
  })
  const more = sorted.length - MOST
  const rest = more > 0 ? `<p><b>and ${more} more</b>: read them in the check before you start.</p>` : ''
  return block('Findings still open', `<ul>${items.join('')}</ul>${rest}`, 'open')
}
