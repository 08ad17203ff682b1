import type { JobOutcome } from '../../job/outcome.ts'
import { readSheet } from '../../job/readSheet.ts'
import type { SheetDocument, SheetPath } from '../../job/sheetDocument.ts'
import { mm } from '../../rules/common/wording.ts'
import type { Finding } from '../../rules/rule.ts'
import { cured } from '../fixes/noWorse.ts'
import { checkedWith, type Trial } from '../fixes/trial.ts'
import type { Fix } from './fix.ts'
import { offsetOf } from './place.ts'

/** A board and a saw are set to the tenth of a millimetre, in inches to the half hundredth. */
const STEP = { mm: 0.1, inch: 0.005 }
const INCH = 25.4

/** A number of the sheet that would be another: by how much, mm. */
interface Change {
  readonly path: SheetPath
  readonly by: number
  readonly round: 'up' | 'down'
  readonly title: (to: string, by: string) => string
}

/**
 * Other numbers in the sheet that do away with a finding: a thicker blank, another saw cut. What they say has to be done
 * at the wood, so that the title says what that is. Each has been tried in the whole job; nothing else gets worse.
 */
export async function numberFixes(trial: Trial, finding: Finding): Promise<Fix[]> {
  const { outcome } = trial.checked
  const bytes = outcome && (await trial.workspace.read(outcome.document.uri))
  if (!outcome || !bytes || finding.found === undefined || finding.limit === undefined) return []
  const text = new TextDecoder().decode(bytes)
  const document = readSheet(outcome.document.uri, text)
  const changes = changesFor(outcome, finding, finding.limit - finding.found)
  const edits = changes.flatMap(change => editOf(document, text, change) ?? [])
  if (edits.length === 0 || edits.length < changes.length) return []
  // From the end on, so that the places of the others stay what they are.
  const after = [...edits]
    .sort((a, b) => b.from - a.from)
    .reduce((edited, { from, to, text: own }) => edited.slice(0, from) + own + edited.slice(to), text)
  if (!cured(trial.checked, await checkedWith(trial, document.uri, after), finding)) return []
  const [first] = edits
  return [
    {
      title: first.title,
      file: document.uri,
      edits: edits.map(({ range, text: own }) => ({ range, text: own })),
      finding,
    },
  ]
}

function changesFor(outcome: JobOutcome, finding: Finding, short: number): readonly Change[] {
  const { sheet } = outcome
  const setup = sheet.setups.find(({ name }) => name === finding.setup)
  if (!setup) return []
  const sawAt = ['setups', setup.index, 'sawAt']
  switch (finding.code) {
    case 'depth/thin-floor':
      return thickerBlank(outcome, finding, setup.blank)
    case 'inlay/saw-in-web':
      return [
        { path: sawAt, by: short, round: 'down', title: to => `Saw the plug off at ${to}, no lower than it is carved` },
      ]
    case 'inlay/plug-short':
      return [{ path: sawAt, by: short, round: 'up', title: (to, by) => `Saw the plug off ${by} thicker: ${to}` }]
    default:
      return []
  }
}

/** As much more as the floor wants at worst: what is planed or bought once more should do. */
function thickerBlank(
  { sheet, copies }: JobOutcome,
  { limit, copies: named }: Finding,
  name: string,
): readonly Change[] {
  const blank = sheet.blanks.get(name)
  const affected = copies.filter(({ copy }) => named?.includes(copy) ?? true)
  const by = Math.max(
    ...affected.map(({ figures }) => (limit ?? 0) - (figures.floor?.least ?? Number.POSITIVE_INFINITY)),
  )
  if (!blank || !(by > 0) || !Number.isFinite(by)) return []
  const listed = affected.map(({ copy }) => copy).filter(copy => blank.copies.has(copy))
  if (listed.length === 0) {
    const own = blank.diameter === undefined ? ['size', 2] : ['thickness']
    const title: Change['title'] = (to, more) => `Take a blank ${more} thicker: ${to}`
    return [{ path: ['blanks', name, ...own], by, round: 'up', title }]
  }
  return listed.map(copy => ({
    path: ['blanks', name, 'copies', copy, 'thickness'],
    by,
    round: 'up',
    title: (to, more) => `Take a blank ${more} thicker for copy ${listed.join(', ')}: ${to}`,
  }))
}

function editOf({ sheet, rangeOf }: SheetDocument, text: string, { path, by, round, title }: Change) {
  const range = rangeOf(path)
  const [from, to] = [offsetOf(text, range.start), offsetOf(text, range.end)]
  const written = Number(text.slice(from, to))
  if (!sheet || !Number.isFinite(written)) return undefined
  const unit = /"units"\s*:\s*"inch"/.test(text) ? 'inch' : 'mm'
  const step = STEP[unit]
  const wanted = (written + by / (unit === 'inch' ? INCH : 1)) / step
  const steps = round === 'up' ? Math.ceil(wanted - 1e-6) : Math.floor(wanted + 1e-6)
  const value = Math.round(steps * step * 1e4) / 1e4
  if (!(value > 0) || value === written) return undefined
  const said = (length: number) => (unit === 'inch' ? `${Math.round(length * 1e4) / 1e4} in` : mm(length))
  return { range, from, to, text: String(value), title: title(said(value), said(Math.abs(value - written))) }
}
