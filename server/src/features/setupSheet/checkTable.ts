import { setupDepths } from '../../job/figures/setupDepths.ts'
import { measuredOn, thicknessOf } from '../../job/measured.ts'
import type { CopyOutcome, Figure, JobOutcome } from '../../job/outcome.ts'
import type { Measured, ProgramSetup, Setup, Sheet } from '../../job/sheet.ts'
import { toldOnce } from './copies.ts'
import { block, type Lengths, note, plain, table } from './markup.ts'

/** One thing to measure: what it is, what it must read, what it may read at worst, the sheet's field for what it did. */
type Check = readonly [what: string, reads: string, worst: string, field?: keyof Measured]

/** More copies than this share one column: narrower ones cannot be written in. */
const MOST_COLUMNS = 3

/** What to measure in a set-up, before and after it, with a column to write in for each copy. */
export function checkTable(
  setup: Setup,
  copies: readonly CopyOutcome[],
  outcome: JobOutcome,
  lengths: Lengths,
): string {
  const found = copies.map(copy => ({ copy, own: checksOf(setup, copy, outcome.sheet, lengths) }))
  const content = checks(found, (copy, field) => {
    const measured = measuredOn(setup, copy)[field]
    return measured === undefined ? '' : lengths.of(measured)
  })
  return block('Measure, and write it down', content + whereToWrite(found))
}

/** Where what was measured goes in the job sheet, so that what is still to be cut is checked with it. */
function whereToWrite(found: readonly Found[]): string {
  const fields = [...new Set(found.flatMap(({ own }) => own.flatMap(([, , , field]) => field ?? [])))]
  if (fields.length === 0) return ''
  const written = `{ ${fields.map(field => `"${field}": …`).join(', ')} }`
  const byCopy = found.map(({ copy: { copy } }) => `"${copy}": ${written}`).join(', ')
  const whole = found.length > 1 && found.length <= MOST_COLUMNS ? `{ "copies": { ${byCopy} } }` : written
  return note(`Into the job sheet, at this set-up: "measured": ${whole}. What comes after is then checked with it.`)
}

/** The figures of the finished piece, for its last page: what the caliper, and the eye, are to find. */
export function pieceTable(outcome: JobOutcome, lengths: Lengths): string {
  const found = outcome.copies.map(copy => ({ copy, own: pieceChecks(copy, outcome, lengths) }))
  return block('The finished piece, sanded', checks(found))
}

function pieceChecks({ figures }: CopyOutcome, { sheet: { limits } }: JobOutcome, lengths: Lengths): Check[] {
  const { floor, wall, inlayLeft, reveal } = figures
  const found: Check[] = []
  if (floor) found.push(check(`Floor where it is thinnest (limit\u00a0${plain(limits.floor)}\u00a0mm)`, floor, lengths))
  if (wall) found.push(check(`Wall where it is thinnest (limit\u00a0${plain(limits.wall)}\u00a0mm)`, wall, lengths))
  if (inlayLeft)
    found.push(check(`Inlay left in the floor (limit\u00a0${plain(limits.inlayLeft)}\u00a0mm)`, inlayLeft, lengths))
  if (reveal) {
    const shown = `${Math.round(reveal.shown * 100)} % of the motif shows`
    found.push(
      check(`Cavity past the buried face (limit\u00a0${plain(limits.reveal)}\u00a0mm); ${shown}`, reveal, lengths),
    )
  }
  return found
}

interface Found {
  readonly copy: CopyOutcome
  readonly own: readonly Check[]
}

/** Each thing to measure on one row, its readings by copy where they differ, and what was measured already. */
function checks(found: readonly Found[], measured: (copy: string, field: keyof Measured) => string = () => ''): string {
  const copies = found.map(({ copy }) => copy)
  const whats = [...new Set(found.flatMap(({ own }) => own.map(([what]) => what)))]
  const inColumns = copies.length > 1 && copies.length <= MOST_COLUMNS
  const columns = inColumns ? copies.map(({ copy }) => `Copy ${copy}`) : ['Measured']
  const rows = whats.map(what => {
    const told = (part: 1 | 2) =>
      toldOnce(copies, copy => found.find(one => one.copy === copy)?.own.find(([own]) => own === what)?.[part])
        .map(({ copies: names, told: text }) => (names && text ? `${names}:\u00a0${text}` : text))
        .join('\n')
    const field = found.flatMap(({ own }) => own.find(([one]) => one === what)?.[3] ?? []).at(0)
    const known = (copy: string) => (field ? measured(copy, field) : '')
    const written = copies.length > MOST_COLUMNS ? [''] : copies.map(({ copy }) => known(copy))
    return [what, told(1), told(2), ...written]
  })
  return table(
    ['What to measure', 'Must read', 'At worst, as declared', ...columns],
    rows,
    `checks of${columns.length}`,
  )
}

const check = (what: string, { nominal, least, most }: Figure, lengths: Lengths, field?: keyof Measured): Check => [
  what,
  lengths.of(nominal),
  lengths.range(least, most),
  field,
]

function checksOf(setup: Setup, copy: CopyOutcome, sheet: Sheet, lengths: Lengths): Check[] {
  const asReceived = receivedChecks(setup, copy, sheet, lengths)
  switch (setup.kind) {
    case 'program':
      return [...asReceived, ...programChecks(setup, copy, sheet, lengths)]
    case 'insert':
      return [...asReceived, ...insertChecks(copy, setup.insert.kind, lengths)]
    case 'saw':
      return [...asReceived, ['Left after the saw, at both ends', lengths.of(setup.leaves), '']]
    case 'hand':
      return asReceived
  }
}

function receivedChecks({ blank: name, index }: Setup, copy: CopyOutcome, sheet: Sheet, lengths: Lengths): Check[] {
  const blank = sheet.blanks.get(name)
  if (!blank || sheet.setups.some(other => other.blank === name && other.index < index)) return []
  const { thickness, within } = thicknessOf(sheet, blank, copy.copy)
  const worst = lengths.range(thickness - within, thickness + within)
  const checks: Check[] = [['Before: thickness, corners and middle', lengths.of(thickness), worst]]
  const over = sheet.setups.filter(
    other => other.kind === 'program' && other.blank === name && other.lie.face === 'underside',
  )
  const turns = new Set(over.map(other => (other as ProgramSetup).lie.turn))
  if (turns.has('sideways')) checks.push(['Before: width (an error moves the motif)', lengths.of(blank.width), ''])
  if (turns.has('endways')) checks.push(['Before: depth (an error moves the motif)', lengths.of(blank.depth), ''])
  return checks
}

const LEFT: Record<ProgramSetup['makes'], string> = {
  plug: 'Wood left under the carving',
  pocket: 'Wood left under the pocket',
  level: 'Left where it is thinnest',
  cavity: 'Floor under the cavity, before sanding',
  outline: 'Tabs or skin that hold the piece',
  other: 'Wood left under the cut',
}

const DEPTH: Record<ProgramSetup['makes'], string> = {
  plug: 'Plug, carved face to carved ground',
  pocket: 'Depth of the pocket under the face',
  level: 'Taken off, beside what still stands',
  cavity: 'Depth of the cavity under the face',
  outline: 'Depth of the outline under the face',
  other: 'Depth of the cut under the face',
}

function programChecks(setup: ProgramSetup, copy: CopyOutcome, sheet: Sheet, lengths: Lengths): Check[] {
  const depths = setupDepths(sheet, copy, setup.index)
  if (!depths) return []
  const { depth, left, thickness, through } = depths
  const { makes } = setup
  const checks: Check[] = []
  if (thickness) checks.push(check('Thickness over all', thickness, lengths, 'thickness'))
  if (depth && makes !== 'outline') checks.push(check(DEPTH[makes], depth, lengths, 'depth'))
  if (left && makes !== 'plug' && !thickness)
    checks.push(check(LEFT[makes], { ...left, least: Math.max(0, left.least) }, lengths))
  if (makes === 'outline' && through) checks.push(['Cut through but for what holds it', 'yes', ''])
  if (setup.sawAt !== undefined)
    checks.push(['Plug after the saw, at three places', lengths.of(setup.sawAt), '', 'height'])
  const last = sheet.setups.findLast(other => other.kind === 'program' && other.makes === makes)
  if (last !== setup) return checks
  const { level, wall } = copy.figures
  if (makes === 'level' && level) checks.push(['Inlay over the wood beside it', lengths.of(level.proud), ''])
  // The last page has the wall among the figures of the piece.
  const isLast = sheet.setups.at(-1) === setup
  if (makes === 'outline' && wall && !isLast)
    checks.push(check('Wall where it is thinnest; at worst once sanded', wall, lengths))
  return checks
}

function insertChecks({ figures }: CopyOutcome, kind: 'plug' | 'resin', lengths: Lengths): Check[] {
  const { fit, resin } = figures
  if (kind === 'plug' && fit) {
    return [
      check('Gap on each side where it is tightest (feeler, paper)', fit.tightest, lengths, 'gap'),
      check('Gap on each side where it is loosest', fit.loosest, lengths),
      [
        fit.proud < 0 ? 'Plug under the rim when home' : 'Plug over the rim when home, all round',
        lengths.of(Math.abs(fit.proud)),
        '',
      ],
    ]
  }
  if (kind === 'resin' && resin) {
    const { volume, withOverfill, mass, parts, by } = resin
    const amount = (value: number) => (by === 'weight' ? `${plain(value)} g` : `${plain(value / 1000)} ml`)
    return [
      ['Pocket up to its rim', `${plain(volume / 1000)} ml`, ''],
      ['To mix, with what is poured over', `${plain(withOverfill / 1000)} ml, ${plain(mass)} g`, ''],
      [`First part, by ${by}`, amount(parts[0]), ''],
      [`Second part, by ${by}`, amount(parts[1]), ''],
      ['Surface an hour, a day later: under the rim? topped up with', '', ''],
      ['Poured at (date, time); may be worked from', '', ''],
    ]
  }
  return []
}
