import { findNodeAtLocation } from 'jsonc-parser'
import type { CopyOutcome, Figure, JobOutcome } from '../../job/outcome.ts'
import { LIMITS, TOLERANCES } from '../../job/reading/defaults.ts'
import { familyOf, findMaterial } from '../../job/reading/materials.ts'
import { pieceBlank } from '../../job/runJob.ts'
import type { Limits, Sheet, Tolerances } from '../../job/sheet.ts'
import type { SheetPath } from '../../job/sheetDocument.ts'
import { mm, number } from '../../rules/common/wording.ts'
import { escaped } from './markdown.ts'
import { treeOf } from './place.ts'
import { figuresOf, setupFigures, timeText } from './setupFigures.ts'

/** What a sheet's job came to. */
export interface KnownJob {
  readonly outcome: JobOutcome
  /** The figures once more, with the sheet changed and nothing else. */
  rework?(sheet: Sheet): Promise<JobOutcome | undefined>
}

/** What a field does to the job, one line of Markdown each; empty where it does nothing that can be told in figures. */
export async function effectOf(job: KnownJob, path: SheetPath): Promise<string[]> {
  const [group, key, field] = path
  const { outcome } = job
  switch (group) {
    case 'limits':
      return key === undefined ? limitsUsed(outcome) : limitLines(outcome, String(key))
    case 'tolerances':
      return key === undefined ? tolerancesUsed(outcome) : toleranceLines(job, String(key))
    case 'bits':
      return key === undefined ? [] : bitLines(outcome, Number(key), field === undefined ? '' : String(field))
    case 'blanks':
      return key === undefined ? [] : blankLines(outcome, String(key), path.slice(2))
    case 'setups':
      return typeof key === 'number' ? setupLines(outcome, key, path.slice(2)) : []
    default:
      return []
  }
}

type FigureName = 'floor' | 'wall' | 'reveal' | 'inlayLeft'
const figureNames: Readonly<Record<FigureName, string>> = {
  floor: 'floor',
  wall: 'wall',
  reveal: 'reveal',
  inlayLeft: 'inlay left',
}

function isFigure(name: string): name is FigureName {
  return Object.hasOwn(figureNames, name)
}

function perCopy(outcome: JobOutcome, say: (copy: CopyOutcome) => string | undefined): string[] {
  const said = outcome.copies.flatMap(copy => {
    const words = say(copy)
    return words === undefined ? [] : [{ copy: copy.copy, words }]
  })
  const alike = said.every(({ words }) => words === said[0].words) && said.length === outcome.copies.length
  if (alike && said.length > 0) return [said[0].words]
  return said.map(({ copy, words }) => `copy ${escaped(copy)}: ${words}`)
}

function figureText(name: string, figure: Figure): string {
  const sum = figure.sum ? `: ${figure.sum}` : ''
  return `${name} ${figure.nominal.toFixed(2)} mm, worst ${figure.least.toFixed(2)}${sum}`
}

function limitLines(outcome: JobOutcome, name: string): string[] {
  if (isFigure(name)) {
    return perCopy(outcome, ({ figures }) => {
      const figure = figures[name]
      return figure && figureText(figureNames[name], figure)
    })
  }
  return perCopy(outcome, ({ figures: { fit } }) => {
    if (!fit) return undefined
    if (name === 'gapBeneath') return `${mm(fit.gapBeneath)} under the plug`
    if (name !== 'clearance') return undefined
    const { tightest, loosest } = fit
    return `gap ${tightest.nominal.toFixed(2)} to ${loosest.nominal.toFixed(2)} mm, worst ${tightest.least.toFixed(2)} to ${loosest.most.toFixed(2)}`
  })
}

/** What is in force though nobody has written it. */
function limitsUsed({ sheet, document }: JobOutcome): string[] {
  return unsaid(document.text, 'limits', sheet.limits, LIMITS)
}

function tolerancesUsed({ sheet, document }: JobOutcome): string[] {
  return unsaid(document.text, 'tolerances', sheet.tolerances, TOLERANCES)
}

function unsaid(text: string, group: string, values: Limits | Tolerances, usual: Limits | Tolerances): string[] {
  const tree = treeOf(text)
  const inForce = Object.entries(values).filter(
    ([name]) => Object.hasOwn(usual, name) && !(tree && findNodeAtLocation(tree, [group, name])),
  )
  if (inForce.length === 0) return []
  const said = inForce.map(([name, value]) => `${name} ${Array.isArray(value) ? value.join(' to ') : value} mm`)
  return [`Not written here, so as usual: ${said.join(', ')}`]
}

/** What a tolerance makes of each worst case: the figures once more without it. */
async function toleranceLines({ outcome, rework }: KnownJob, name: string): Promise<string[]> {
  const { sheet } = outcome
  if (!rework || !Object.hasOwn(sheet.tolerances, name)) return []
  const without = await rework({ ...sheet, tolerances: { ...sheet.tolerances, [name]: 0 } })
  if (!without) return []
  const value = sheet.tolerances[name as keyof Tolerances]
  const lines = perCopy(outcome, copy => {
    const other = without.copies.find(each => each.copy === copy.copy)
    const parts = (Object.keys(figureNames) as FigureName[]).flatMap(figure => {
      return share(figureNames[figure], copy.figures[figure], other?.figures[figure])
    })
    const fit = share('tightest gap', copy.figures.fit?.tightest, other?.figures.fit?.tightest)
    const all = [...parts, ...fit]
    return all.length > 0 ? all.join('; ') : undefined
  })
  if (lines.length > 0) return lines
  return value === 0 ? ['It is nothing here.'] : ['No figure of this job rests on it.']
}

function share(name: string, figure: Figure | undefined, without: Figure | undefined): string[] {
  if (!figure || !without) return []
  const part = without.least - figure.least
  if (part < 0.0005) return []
  const whole = figure.nominal - figure.least
  return [
    `${number(part, 2)} of the ${number(whole, 2)} mm that ${name} may lose (worst ${figure.least.toFixed(2)}, without it ${without.least.toFixed(2)})`,
  ]
}

function bitLines(outcome: JobOutcome, bit: number, field: string): string[] {
  const lines: string[] = []
  const known = outcome.sheet.bits.get(bit)
  const seen = new Set<string>()
  for (const { run } of outcome.copies.flatMap(copy => copy.setups)) {
    const used = run && figuresOf(run, outcome).bits[String(bit)]
    if (!run || !used) continue
    const chips = used.chipLoad && `${number(used.chipLoad[0], 3)} to ${number(used.chipLoad[1], 3)} mm a tooth`
    const parts =
      field === 'maxPassDepth' || field === 'cuttingLength'
        ? [`${mm(used.passDepth)} in wood at the deepest`]
        : field === 'chipLoad'
          ? [chips]
          : [timeText(used.time), `${mm(used.passDepth)} in wood at the deepest`, chips]
    const told = parts.filter(part => part !== undefined)
    if (told.length > 0) seen.add(`${escaped(run.setup.name)}: ${told.join(', ')}`)
  }
  if (known && field === '') {
    lines.push(
      `Passes to ${mm(known.maxPassDepth)}, chips ${number(known.chipLoad[0], 3)} to ${number(known.chipLoad[1], 3)} mm a tooth, down at ${number(known.maxPlungeFeed, 0)} mm/min at most`,
    )
  }
  return seen.size > 0 ? [...lines, ...seen] : [...lines, 'No set-up cuts with it.']
}

function blankLines(outcome: JobOutcome, name: string, rest: SheetPath): string[] {
  const blank = outcome.sheet.blanks.get(name)
  if (!blank) return []
  const [field, copy] = rest
  if (field === 'material') return materialLines(blank.material)
  if (name !== pieceBlank(outcome.sheet)) return []
  if (field === 'copies' && copy !== undefined) {
    const of = outcome.copies.find(each => each.copy === copy)
    return of ? copyLines(of) : []
  }
  const counts = field === undefined || field === 'size' || field === 'thickness' || field === 'copies'
  return counts ? pieceLines(outcome) : []
}

/** The figures of every copy. */
function pieceLines({ copies }: JobOutcome): string[] {
  return copies.flatMap(of => {
    const words = copyLines(of)
    return of.copy === '' ? words : words.map(line => `copy ${escaped(of.copy)}: ${line}`)
  })
}

/** The figures of one copy, each with its sum. */
function copyLines({ figures }: CopyOutcome): string[] {
  return (Object.keys(figureNames) as FigureName[]).flatMap(name => {
    const figure = figures[name]
    return figure ? [figureText(figureNames[name], figure)] : []
  })
}

function materialLines(material: string): string[] {
  const found = findMaterial(material)
  if (!found) return [`Not one of the listed woods; it counts as ${familyOf(material)}.`]
  const moves = found.movement
    ? `; it moves ${number(found.movement.tangential * 100, 2)} % across the rings for each percent of moisture`
    : ''
  return [`Taken for ${found.name}: ${found.family}${moves}`]
}

function setupLines(outcome: JobOutcome, index: number, rest: SheetPath): string[] {
  // What was measured goes into whatever comes after it.
  if (rest[0] === 'measured') return pieceLines(outcome)
  // What lies deeper, a pin or where a zero is, does not make these figures by itself.
  if (rest.length > 1 && rest[0] !== 'insert' && rest[0] !== 'saw') return []
  const figures = setupFigures(outcome, index).map(({ copies, parts }) => {
    const whose = copies.length > 0 ? `${copies.length > 1 ? 'copies' : 'copy'} ${escaped(copies.join(', '))}: ` : ''
    return `${whose}${escaped(parts.join(', '))}`
  })
  const field = rest[rest.length - 1]
  if (field === 'sawAt') {
    const proud = perCopy(outcome, ({ figures: { fit, level } }) => {
      if (!fit) return undefined
      const after = level ? `, ${standing(level.proud)} after levelling` : ''
      return `${standing(fit.proud)} as glued${after}; sawn ${mm(fit.sawAt)} from its face`
    })
    return proud.length > 0 ? proud : figures
  }
  return figures
}

const standing = (proud: number) => (proud < 0 ? `${mm(-proud)} sunk` : `${mm(proud)} proud`)
