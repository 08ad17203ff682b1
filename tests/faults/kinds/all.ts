import type { Kind } from './kind.ts'
import { PROGRAM_KINDS } from './programs.ts'
import { SHEET_KINDS } from './sheets.ts'
import { WORD_KINDS } from './words.ts'

export const KINDS: readonly Kind[] = [...WORD_KINDS, ...PROGRAM_KINDS, ...SHEET_KINDS]
