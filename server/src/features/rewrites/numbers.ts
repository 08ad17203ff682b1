import { Refusal, type Source, wordsByLine } from './source.ts'

/** How an author writes numbers and words, as far as the program shows it. */
export interface Style {
  /** No needless zeros at the end: 67.5, 67, not 67.500. */
  readonly trims: boolean
  /** Whole numbers end in a point: 67. */
  readonly dotted: boolean
  /** No nought before the point: .5 */
  readonly bare: boolean
  /** A plus before what is above nothing. */
  readonly plus: boolean
  /** A blank between words. */
  readonly spaced: boolean
  readonly lower: boolean
  /** Decimals of its finest number. */
  readonly resolution: number
}

const NUMBER = /^([A-Za-z])([ \t]*)([+-]?)(\d*)(?!\d)(\.?)(\d*)$/

/** Lines looked at to learn how an author writes: enough to have seen all of his ways. */
const LOOKED_AT = 2000

export function styleOf(source: Source): Style {
  const { program } = source
  const wordsOf = wordsByLine(source)
  const style = { trims: true, dotted: false, bare: false, plus: false, spaced: false, lower: false, resolution: 0 }
  for (let line = 0; line < Math.min(program.lineCount, LOOKED_AT); line++) {
    const words = wordsOf[line] ?? []
    const text = program.lineText(line)
    for (let n = 0; n < words.length; n++) {
      const { letter, span } = words[n]
      if (n > 0 && span.start > words[n - 1].span.end) style.spaced = true
      if (text.charCodeAt(span.start) >= 97) style.lower = true
      if (!'XYZIJKRQ'.includes(letter)) continue
      const parts = NUMBER.exec(text.slice(span.start, span.end))
      if (!parts) continue
      const [, , , sign, whole, dot, decimals] = parts
      style.resolution = Math.max(style.resolution, decimals.length)
      if (decimals.endsWith('0')) style.trims = false
      if (dot && !decimals) style.dotted = true
      if (!whole) style.bare = true
      if (sign === '+') style.plus = true
    }
  }
  return style
}

/** Most decimals of any number here: beyond that no machine reads. */
const MOST_PLACES = 7

/**
 * Decimals with which a number is written: as fine as the author's finest, and finer where that would be farther off
 * than `tolerance`.
 */
export function placesFor(value: number, tolerance: number, resolution: number): number {
  let places = resolution
  while (places < MOST_PLACES && Math.abs(Number(value.toFixed(places)) - value) > tolerance + 1e-12) places++
  const decimals = value.toFixed(places).split('.')[1] ?? ''
  return decimals.replace(/(?<!0)0+$/, '').length
}

/**
 * A word with another number (in the word's own unit), no farther off than `tolerance`, in the way its author writes
 * numbers.
 * @param letter of the new word
 * @param old the word as it was, whose decimals, signs and blanks are kept; absent for a word that is added
 * @throws Refusal where the word holds no plain number
 */
export function writeWord(style: Style, letter: string, value: number, tolerance: number, old?: string): string {
  const parts = old === undefined ? undefined : NUMBER.exec(old)
  if (old !== undefined && !parts) {
    throw new Refusal(`${old} is not a plain number; what is worked out by the machine is not rewritten.`)
  }
  const [, first, blanks, sign, whole, dot, decimals] = parts ?? ['', '', '', '', '0', '', '']
  const lower = parts ? first === first.toLowerCase() : style.lower
  const needed = placesFor(value, tolerance, style.resolution)
  const places = style.trims ? needed : Math.max(needed, decimals.length)
  let digits = Math.abs(value).toFixed(places)
  const isZero = Number(digits) === 0
  if (places === 0 && (parts ? dot !== '' && (decimals === '' || style.dotted) : style.dotted)) digits += '.'
  if (places > 0 && (parts ? whole === '' || (style.bare && !/^0+$/.test(whole)) : style.bare)) {
    digits = digits.replace(/^0(?=\.\d)/, '')
  }
  const plus = sign === '+' || (style.plus && (sign === '-' || !parts))
  const mark = value < 0 && !isZero ? '-' : plus ? '+' : ''
  return `${lower ? letter.toLowerCase() : letter}${blanks}${mark}${digits}`
}

/** A code with another number of as many digits: G02 becomes G03. */
export function writeCode(old: string, number: number): string {
  const parts = /^([A-Za-z][ \t]*)(?![ \t])(?=[\d. ]+$)(0*)[\d. ]+$/.exec(old)
  return parts ? `${parts[1]}${number < 10 ? parts[2] : ''}${number}` : `${old[0]}${number}`
}

/** The number that a written word holds. */
export const numberIn = (word: string): number => Number(word.slice(1).replace(/[ \t]/g, ''))
