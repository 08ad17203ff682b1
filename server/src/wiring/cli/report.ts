import type { CopyFigures, Figure } from '../../job/outcome.ts'
import type { Finding } from '../../rules/rule.ts'
import { type Digest, lineKey } from './digest.ts'

/** A check put in order for a person to read: what the text report prints, nothing worked out any more. */
export interface CheckReport {
  readonly findings: readonly Finding[]
  readonly suppressed: number
  readonly withheldNotes: readonly string[]
  readonly programCount: number
  readonly jobs: readonly {
    readonly title: string
    readonly name: string
    readonly copies: readonly { readonly name: string; readonly rows: readonly FigureRow[] }[]
  }[]
  /** Path of a file relative to the working folder. */
  nameOf(uri: string): string
  lineOf(uri: string, line: number): string
}

export interface FigureRow {
  readonly label: string
  readonly value: string
  readonly worst?: string
  readonly sum?: string
  /** Worth knowing beside the number. */
  readonly hint?: string
}

/** Puts what was checked in reading order. */
export function reportOf(digest: Digest, nameOf: (uri: string) => string): CheckReport {
  return {
    findings: digest.findings,
    suppressed: digest.suppressed.length,
    withheldNotes: [...new Set(digest.withheld.map(({ file, why }) => `${nameOf(file)}: ${why}`))],
    programCount: digest.programs.size,
    jobs: digest.jobs.map(({ title, uri, copies }) => ({
      title,
      name: nameOf(uri),
      copies: copies.map(({ name, figures }) => ({ name, rows: figureRows(figures) })),
    })),
    nameOf,
    lineOf: (uri, line) => digest.lines.get(lineKey(uri, line)) ?? '',
  }
}

const mm = (value: number) => `${value.toFixed(2)} mm`

/** The figures of one copy as rows, in the order in which the work makes them. */
function figureRows(figures: CopyFigures): FigureRow[] {
  const rows: FigureRow[] = []
  const figure = (label: string, value: Figure | undefined) => {
    if (!value) return
    const worst = value.least === value.most ? undefined : `${value.least.toFixed(2)} to ${value.most.toFixed(2)}`
    rows.push({ label, value: mm(value.nominal), worst, sum: value.sum, hint: value.hint })
  }
  figure('gap, tightest', figures.fit?.tightest)
  figure('gap, loosest', figures.fit?.loosest)
  if (figures.fit?.movement) rows[rows.length - 1] = { ...rows[rows.length - 1], hint: figures.fit.movement.hint }
  if (figures.resin) rows.push(resinRow(figures.resin))
  figure('reveal', figures.reveal)
  figure('inlay left', figures.inlayLeft)
  figure('floor', figures.floor)
  figure('wall', figures.wall)
  if (figures.finalVolume !== undefined)
    rows.push({ label: 'finished piece', value: `${(figures.finalVolume / 1000).toFixed(1)} cm³` })
  return rows
}

/** What to weigh or measure out, with the usual cautions. */
function resinRow({
  withOverfill,
  volume,
  mass,
  parts,
  by,
  pours,
  area,
}: NonNullable<CopyFigures['resin']>): FigureRow {
  const ml = (value: number) => `${(value / 1000).toFixed(1)} ml`
  const amounts = by === 'weight' ? parts.map(part => `${part.toFixed(1)} g`) : parts.map(ml)
  const layers = pours === 1 ? 'one pour' : `${pours} pours, each cured as its maker says before the next`
  return {
    label: 'resin to mix',
    value: `${mass.toFixed(1)} g`,
    hint: `${ml(volume)} to the rim, ${ml(withOverfill)} with what is poured over: ${amounts.join(' and ')} by ${by}, in ${layers}; ${(area / 100).toFixed(1)} cm² to level after it. Gloves and fresh air; a thick pour heats itself: the maker's sheet comes first.`,
  }
}
