import type { Program } from './program.ts'
import { ProgramDocument, type ReadOptions } from './programDocument.ts'

export type { ReadOptions }

/** Reads and runs a program. Never throws: whatever is wrong becomes a problem, and the rest is read all the same. */
export function readProgram(bytes: Uint8Array, options: ReadOptions = {}): Program {
  return new ProgramDocument(bytes, options).program()
}
