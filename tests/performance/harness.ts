/**
 * Ratios, not times: both sides of each row are measured in the same run, turn about, and the medians are compared.
 * Times of a noisy machine say little; how many times as fast as something well known says much.
 */

export interface Row {
  readonly name: string
  /** Median of ours. */
  readonly value: number
  readonly unit: string
  /** Median of what it is compared with; NaN where the goal is an absolute one. */
  readonly baseline: number
  /** How many times as good as the baseline; for an absolute goal the value itself. */
  readonly ratio: number
  /** As text, so that it reads in the table: '>= 20 times', '<= 0.3 s'. */
  readonly goal: string
  readonly met: boolean
}

/** Milliseconds of one call. */
export async function timed(work: () => unknown): Promise<number> {
  const start = performance.now()
  await work()
  return performance.now() - start
}

export function median(values: readonly number[]): number {
  const sorted = [...values].sort((a, b) => a - b)
  const middle = sorted.length >> 1
  return sorted.length % 2 === 1 ? sorted[middle] : (sorted[middle - 1] + sorted[middle]) / 2
}

/** Medians of several kinds of work, done turn about so that a slow spell of the machine falls on all of them. */
export async function medians<K extends string>(
  works: Readonly<Record<K, () => unknown>>,
  rounds = 5,
): Promise<Record<K, number>> {
  const names = Object.keys(works) as K[]
  const times = new Map<K, number[]>(names.map(name => [name, []]))
  for (const name of names) await works[name]()
  for (let round = 0; round < rounds; round++) {
    for (const name of names) {
      // What the one leaves behind is not swept up in the other's time.
      globalThis.gc?.()
      times.get(name)!.push(await timed(works[name]))
    }
  }
  return Object.fromEntries(names.map(name => [name, median(times.get(name)!)])) as Record<K, number>
}

/** A row that is met when ours is at least `times` as fast as the baseline. */
export function faster(name: string, ours: number, baseline: number, times: number): Row {
  const ratio = baseline / ours
  return { name, value: ours, unit: 'ms', baseline, ratio, goal: `>= ${times} times as fast`, met: ratio >= times }
}

/** A row that is met when ours is at most `share` of the baseline. */
export function atMost(name: string, unit: string, ours: number, baseline: number, share: number): Row {
  const ratio = ours / baseline
  return { name, value: ours, unit, baseline, ratio, goal: `<= ${share} of it`, met: ratio <= share }
}

/** A row whose goal is a plain number. */
export function below(name: string, unit: string, value: number, limit: number): Row {
  return { name, value, unit, baseline: Number.NaN, ratio: value, goal: `< ${limit} ${unit}`, met: value < limit }
}

/** A row that only tells. */
export function told(name: string, unit: string, value: number): Row {
  return { name, value, unit, baseline: Number.NaN, ratio: value, goal: 'told only', met: true }
}

/** The rows as a table for a terminal. */
export function table(rows: readonly Row[]): string {
  const number = (value: number) => (Number.isNaN(value) ? '-' : Number(value.toPrecision(3)).toString())
  const cells = rows.map(row => [
    row.name,
    `${number(row.value)} ${row.unit}`,
    Number.isNaN(row.baseline) ? '-' : `${number(row.baseline)} ${row.unit}`,
    number(row.ratio),
    row.goal,
    row.met ? 'met' : 'NOT MET',
  ])
  const head = ['what', 'ours', 'beside', 'ratio', 'goal', '']
  const widths = head.map((title, column) => Math.max(title.length, ...cells.map(row => row[column].length)))
  const line = (row: readonly string[]) =>
    row
      .map((cell, column) => cell.padEnd(widths[column]))
      .join('  ')
      .trimEnd()
  return [line(head), line(widths.map(width => '-'.repeat(width))), ...cells.map(line)].join('\n')
}
