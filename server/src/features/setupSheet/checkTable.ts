import { setupDepths } from '../../job/figures/setupDepths.ts'
import type { CopyOutcome, Figure, JobOutcome } from '../../job/outcome.ts'
import type { ProgramSetup, Setup, Sheet } from '../../job/sheet.ts'
import { toldOnce } from './copies.ts'
import { block, type Lengths, plain, table } from './markup.ts'

/** One thing to measure: what it is, what it must read, what it may read at worst. */
type Check = readonly [what: string, reads: string, worst: string]

const HEADS = ['', 'What to measure', 'Must read', 'At worst, as declared', 'Measured']

/** What to measure in a set-up, before and after it, with a column to write in. */
export function checkTable(
  setup: Setup,
  copies: readonly CopyOutcome[],
  outcome: JobOutcome,
  lengths: Lengths,
): string {
  const { sheet } = outcome
  const rows = toldOnce(copies, copy => checksOf(setup, copy, sheet, lengths)).flatMap(({ copies: names, told }) =>
    told.map(([what, reads, worst]) => [names && `copy ${names}`, what, reads, worst, '']),
  )
  const named = rows.some(([names]) => names)
  const kept = named ? rows : rows.map(row => row.slice(1))
  return block(
    'Measure, and write it down',
    table(named ? HEADS : HEADS.slice(1), kept, named ? 'checks named' : 'checks'),
  )
}

/** The figures of the finished piece, for its last page: what the caliper, and the eye, are to find. */
export function pieceTable(outcome: JobOutcome, lengths: Lengths): string {
  const { limits } = outcome.sheet
  const rows = toldOnce(outcome.copies, ({ figures }) => {
    const { floor, wall, inlayLeft, reveal, finalVolume } = figures
    const found: Check[] = []
    if (floor) found.push(check(`Floor where it is thinnest (limit ${plain(limits.floor)})`, floor, lengths))
    if (wall) found.push(check(`Wall where it is thinnest (limit ${plain(limits.wall)})`, wall, lengths))
    if (inlayLeft) found.push(check(`Inlay left (limit ${plain(limits.inlayLeft)})`, inlayLeft, lengths))
    if (reveal) {
      const text = `Past the buried face (limit ${plain(limits.reveal)}); ${Math.round(reveal.shown * 100)} % of the motif shows`
      found.push(check(text, reveal, lengths))
    }
    if (finalVolume !== undefined) found.push(['Volume of the piece', `${plain(finalVolume / 1000)} cm³`, ''])
    return found
  }).flatMap(({ copies, told }) =>
    told.map(([what, reads, worst]) => [copies && `copy ${copies}`, what, reads, worst, '']),
  )
  const named = rows.some(([names]) => names)
  const kept = named ? rows : rows.map(row => row.slice(1))
  return block(
    'The finished piece, sanded',
    table(named ? HEADS : HEADS.slice(1), kept, named ? 'checks named' : 'checks'),
  )
}

const check = (what: string, { nominal, least, most }: Figure, lengths: Lengths): Check => [
  what,
  lengths.of(nominal),
  lengths.range(least, most),
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
  const thickness = blank.copies.get(copy.copy) ?? blank.thickness
  const { thickness: spread } = sheet.tolerances
  const worst = lengths.range(thickness - spread, thickness + spread)
  const checks: Check[] = [['Before: thickness as received, corners and middle', lengths.of(thickness), worst]]
  const over = sheet.setups.filter(
    other => other.kind === 'program' && other.blank === name && other.lie.face === 'underside',
  )
  const turns = new Set(over.map(other => (other as ProgramSetup).lie.turn))
  if (turns.has('sideways'))
    checks.push(['Before: width, left to right (turned over, an error moves the motif)', lengths.of(blank.width), ''])
  if (turns.has('endways'))
    checks.push(['Before: depth, near to far (turned over, an error moves the motif)', lengths.of(blank.depth), ''])
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
  if (thickness) checks.push(check('Thickness over all', thickness, lengths))
  if (depth && makes !== 'outline') checks.push(check(DEPTH[makes], depth, lengths))
  if (left && makes !== 'plug' && !thickness) checks.push(check(LEFT[makes], left, lengths))
  if (makes === 'outline' && through)
    checks.push(['Cut through elsewhere: light shows all along, but for what holds it', 'yes', ''])
  if (setup.sawAt !== undefined) checks.push(['Plug after the saw, at three places', lengths.of(setup.sawAt), ''])
  const last = sheet.setups.findLast(other => other.kind === 'program' && other.makes === makes)
  if (last !== setup) return checks
  const { level, wall } = copy.figures
  if (makes === 'level' && level) checks.push(['Inlay over the wood beside it', lengths.of(level.proud), ''])
  if (makes === 'outline' && wall)
    checks.push(check('Wall where it is thinnest, before sanding at most', wall, lengths))
  return checks
}

function insertChecks({ figures }: CopyOutcome, kind: 'plug' | 'resin', lengths: Lengths): Check[] {
  const { fit, resin } = figures
  if (kind === 'plug' && fit) {
    return [
      check('Gap on each side where it is tightest (feeler, paper)', fit.tightest, lengths),
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
