import type { Program } from '../../machine/program.ts'
import { codeName } from '../../machine/words.ts'
import { partsOf } from '../../syntax/lineParts.ts'
import type { ProgramText } from '../../syntax/programText.ts'
import { wordsInForce } from '../language/inForce.ts'

/**
 * Names of the G and M codes that say what the words of a line mean: its own, and those in force there.
 * @param program the reading of the text, asked for only where the text alone does not tell
 */
export function codesInForce(text: ProgramText, program: () => Program, line: number): Set<string> {
  const codes = new Set<string>()
  for (const { line: at, start, end } of wordsInForce(text, program, line)) {
    const code = nameOfCode(text.line(at).slice(start, end))
    if (code) codes.add(code)
  }
  for (const { kind, letter, value } of partsOf(text, line)) {
    if (kind === 'code' && letter && value !== undefined) codes.add(codeName(letter, Math.round(value * 10)))
  }
  return codes
}

/** `G1` of `g 01`; undefined for what is no code. */
function nameOfCode(written: string): string | undefined {
  const parts = /^\s*([GM])\s*(?!\s)([\d.\s]+)$/i.exec(written)
  const value = parts ? Number(parts[2].replace(/\s/g, '')) : Number.NaN
  return parts && Number.isFinite(value) ? codeName(parts[1].toUpperCase(), Math.round(value * 10)) : undefined
}
