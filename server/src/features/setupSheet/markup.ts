import type { JobOutcome } from '../../job/outcome.ts'
import { escapeMarkup } from '../preview/page.ts'

/** A heading with what stands under it; nothing where there is nothing to say. `content` is markup. */
export function block(title: string, content: string, kind = ''): string {
  if (content === '') return ''
  return `<section class="block ${kind}"><h3>${escapeMarkup(title)}</h3>${content}</section>`
}

/** Boxes to tick, one a text. */
export function ticks(texts: readonly string[]): string {
  if (texts.length === 0) return ''
  return `<ul class="ticks">${texts.map(text => `<li><i class="box"></i>${escapeMarkup(text)}</li>`).join('')}</ul>`
}

/** A table of texts. */
export function table(heads: readonly string[], rows: readonly (readonly string[])[], kind = ''): string {
  if (rows.length === 0) return ''
  const head = heads.map(text => `<th>${escapeMarkup(text)}</th>`).join('')
  const body = rows.map(row => `<tr>${row.map(text => `<td>${escapeMarkup(text)}</td>`).join('')}</tr>`)
  return `<table class="${kind}"><thead><tr>${head}</tr></thead><tbody>${body.join('')}</tbody></table>`
}

/** A line in small print. */
export function note(text: string): string {
  return `<p class="note">${escapeMarkup(text)}</p>`
}

/** Names and what belongs to them, one a line. */
export function facts(pairs: readonly (readonly [string, string])[]): string {
  const lines = pairs.map(([name, text]) => `<div><dt>${escapeMarkup(name)}</dt><dd>${escapeMarkup(text)}</dd></div>`)
  return `<dl>${lines.join('')}</dl>`
}

/** How lengths are written: mm, and inches beside them for a shop whose programs are in inches. */
export interface Lengths {
  /** "7.5 mm", "7.62 mm (0.300 in)" */
  of(mm: number): string
  /** "7.3 to 7.7 mm" */
  range(least: number, most: number): string
}

export function lengthsOf(outcome: JobOutcome): Lengths {
  const isInch = outcome.copies.some(({ setups }) =>
    setups.some(({ run }) => run?.program.states.some(({ units }) => units === 'inch')),
  )
  // Lines are broken between the two units only.
  const inches = (text: string) => (isInch ? ` (${text} in)`.replaceAll(' ', '\u00a0').replace('\u00a0', ' ') : '')
  const inch = (mm: number) => (mm / 25.4).toFixed(3)
  return {
    of: mm => `${plain(mm)}\u00a0mm${inches(inch(mm))}`,
    range: (least, most) =>
      `${plain(least)}\u00a0to\u00a0${plain(most)}\u00a0mm${inches(`${inch(least)} to ${inch(most)}`)}`,
  }
}

/** One decimal, two where the second counts. */
export function plain(value: number): string {
  const text = value.toFixed(2).replace(/0$/, '')
  return text === '-0.0' ? '0.0' : text
}
