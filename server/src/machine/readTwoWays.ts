import { parseLine } from 'gcode-parser'
import { Token, type TokenBuffer } from '../syntax/tokens.ts'
import { show } from './moves.ts'
import type { Run } from './run.ts'

/** Longer lines are no program; the second reader is spared them. */
const LONGEST = 1000
const LENGTHS = 'XYZIJKR'

/** Two signs or more before a number. */
const SIGNS = /^\s*[+-]\s*[+-][+\-\s]*(\d+\.?\d*|\.\d+)$/

const decoder = new TextDecoder()

/**
 * Compares a suspect line with what an independent, lenient reader (the npm package gcode-parser) makes of it: some
 * machines read as it does, and go somewhere else than was meant where a strict one stops.
 */
export function readTwoWays(run: Run, tokens: TokenBuffer, from: number, to: number): void {
  const { block, bytes } = run
  if (block.end - block.start > LONGEST) return
  const lenient = lenientWords(decoder.decode(bytes.subarray(block.start, block.end)))
  if (lenient === undefined) return
  for (let i = from; i < to; i++) {
    const suspect = suspectAt(run, tokens, i)
    if (!suspect) continue
    const { letter, text, start, end } = suspect
    const meant = meantBy(text.slice(1))
    const taken = lenient.get(letter)
    if (taken !== undefined && Number.isNaN(taken) && !SIGNS.test(text.slice(1))) continue
    if (taken !== undefined && taken === meant) continue
    run.problem('syntax/read-two-ways', run.span(start, end), message(run, letter, text, meant, taken))
  }
}

/** What two machines would do. How to write it is said by the finding on the word itself. */
function message(run: Run, letter: string, text: string, meant: number, taken: number | undefined): string {
  if (taken === undefined) {
    return `A lenient machine passes over ${text} and goes on as if ${letter} were not there; a strict one stops.`
  }
  const signs = SIGNS.exec(text.slice(1))
  if (signs) {
    const apart = LENGTHS.includes(letter) ? `: ${show(run, 2 * Number(signs[1]) * run.modal.scale)} apart` : ''
    return `With two signs this is ${letter}${signs[1]} to one machine and ${letter}-${signs[1]} to another${apart}.`
  }
  if (Number.isNaN(meant))
    return `A lenient machine takes ${letter}${taken} out of ${text} and goes on; a strict one stops.`
  const apart = LENGTHS.includes(letter) ? `: ${show(run, Math.abs(meant - taken) * run.modal.scale)} apart` : ''
  return `This is ${letter}${meant} or ${letter}${taken}, as the machine reads it${apart}.`
}

interface Suspect {
  readonly letter: string
  readonly text: string
  readonly start: number
  readonly end: number
}

function suspectAt(run: Run, tokens: TokenBuffer, i: number): Suspect | undefined {
  const kind = tokens.kind[i]
  const start = tokens.start[i]
  const letter = String.fromCharCode(run.bytes[start] & 0xdf)
  const span = (from: number, end: number): Suspect => ({
    letter: String.fromCharCode(run.bytes[from] & 0xdf),
    text: decoder.decode(run.bytes.subarray(from, Math.min(end, from + 40))).toUpperCase(),
    start: from,
    end,
  })
  if (kind === Token.badNumber) return span(start, tokens.end[i])
  // `X1e3`: a power of ten to some, two words to others.
  if (kind === 69 && i > 0 && tokens.kind[i - 1] >= 65 && tokens.end[i - 1] === start && letter === 'E') {
    return span(tokens.start[i - 1], tokens.end[i])
  }
  return undefined
}

/** The number that was most likely meant, or NaN: a comma for a point, the letter O for a nought, a power of ten. */
function meantBy(text: string): number {
  const tidy = text.replace(/[ \t]/g, '').replace(/O/g, '0')
  const pointed = /^[+-]?\d+,\d+$/.test(tidy) ? tidy.replace(',', '.') : tidy
  return /^[+-]?(\d+(\.\d*)?|\.\d+)(E[+-]?\d+)?$/.test(pointed) ? Number(pointed) : Number.NaN
}

/** The words as the lenient reader has them; undefined where it fails altogether. */
function lenientWords(line: string): Map<string, number> | undefined {
  try {
    const words = new Map<string, number>()
    for (const [letter, value] of parseLine(line).words) {
      const name = letter.toUpperCase()
      if (!words.has(name)) words.set(name, Number.parseFloat(String(value)))
    }
    return words
  } catch {
    return undefined
  }
}
