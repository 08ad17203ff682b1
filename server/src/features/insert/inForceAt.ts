import type { Program } from '../../machine/program.ts'
import { codeName } from '../../machine/words.ts'
import type { ProgramText } from '../../syntax/programText.ts'
import { wordsInForce } from '../language/inForce.ts'

/** What the text has in force before a line; what is not said, or worked out by the machine, is absent. */
export interface InForce {
  /** Names of G and M codes. */
  readonly codes: ReadonlySet<string>
  /** As written, in the program's units. */
  readonly feed?: number
  readonly speed?: number
  readonly tool?: number
}

export function inForceBefore(text: ProgramText, program: Program, line: number): InForce {
  const codes = new Set<string>()
  const rates: Record<string, number> = {}
  const spans = line > 0 ? wordsInForce(text, () => program, line - 1) : []
  for (const { line: at, start, end } of spans) {
    const written = text.line(at).slice(start, end)
    const parts = /^\s*([A-Z])\s*(?!\s)([+-]?[\d.\s]+)$/i.exec(written)
    const value = parts ? Number(parts[2].replace(/\s/g, '')) : Number.NaN
    if (!parts || !Number.isFinite(value)) continue
    const letter = parts[1].toUpperCase()
    if (letter === 'G' || letter === 'M') codes.add(codeName(letter, Math.round(value * 10)))
    else rates[letter] = value
  }
  return { codes, feed: rates.F, speed: rates.S, tool: rates.T }
}
