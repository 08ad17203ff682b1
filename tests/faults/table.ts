import type { Planted } from './measure.ts'

export interface Row {
  readonly kind: string
  readonly planted: number
  readonly harmless: number
  readonly different: number
  readonly harmful: number
  readonly unclear: number
  /** Of the harmful ones. */
  readonly found: number
  readonly placed: number
  /** Harmless ones with an error or a warning. */
  readonly falseAlarms: number
  /** Different ones of which something was said. */
  readonly noticed: number
}

export function rowOf(kind: string, all: readonly Planted[]): Row {
  const of = (is: string) => all.filter(one => one.verdict.is === is)
  const harmful = of('harmful')
  return {
    kind,
    planted: all.length,
    harmless: of('harmless').length,
    different: of('different').length,
    harmful: harmful.length,
    unclear: of('unclear').length,
    found: harmful.filter(one => one.found).length,
    placed: harmful.filter(one => one.found && one.placed).length,
    falseAlarms: of('harmless').filter(one => one.found).length,
    noticed: of('different').filter(one => one.found).length,
  }
}

export function rowsOf(all: readonly Planted[]): Row[] {
  const kinds = [...new Set(all.map(one => one.kind))]
  return [
    ...kinds.map(kind =>
      rowOf(
        kind,
        all.filter(one => one.kind === kind),
      ),
    ),
    rowOf('all', all),
  ]
}

export function tableOf(rows: readonly Row[]): string {
  const columns = [
    'planted',
    'harmless',
    'different',
    'harmful',
    'unclear',
    'found',
    'placed',
    'falseAlarms',
    'noticed',
  ] as const
  const heads: Record<(typeof columns)[number], string> = {
    planted: 'planted',
    harmless: 'harmless',
    different: 'different',
    harmful: 'harmful',
    unclear: 'unclear',
    found: 'found',
    placed: 'at line',
    falseAlarms: 'false al.',
    noticed: 'diff. noticed',
  }
  const wide = Math.max(...rows.map(row => row.kind.length)) + 2
  const head = 'kind'.padEnd(wide) + columns.map(column => heads[column].padStart(heads[column].length + 2)).join('')
  const lines = rows.map(
    row => row.kind.padEnd(wide) + columns.map(c => String(row[c]).padStart(heads[c].length + 2)).join(''),
  )
  return [head, ...lines].join('\n')
}
