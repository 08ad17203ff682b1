import type { JobOutcome, Run } from '../job/outcome.ts'
import type { Sheet } from '../job/sheet.ts'
import type { SheetDocument, SheetPath } from '../job/sheetDocument.ts'
import type { Program } from '../machine/program.ts'
import type { Range, TextSpan } from '../syntax/source.ts'

export type Severity = 'error' | 'warning' | 'information'

/** Where a finding points. */
export type Place = { readonly program: string; readonly span: TextSpan } | { readonly field: SheetPath }

/** What a rule says; the engine adds file, severity, set-up and copies. */
export interface Report {
  readonly at: TextSpan | { readonly field: SheetPath } | { readonly program: string; readonly span: TextSpan }
  /** Plain words: what is so, and what will happen at the machine. Holds the number found and the limit. */
  readonly message: string
  readonly found?: number
  readonly limit?: number
  readonly related?: readonly { readonly place: Place; readonly message: string }[]
  /** Overrides the rule's own: only where the contract says so (worst case alone broken, below 0, still shows). */
  readonly severity?: Severity
}

export type Reporter = (report: Report) => void

interface AnyRule {
  /** `family/what-is-wrong`, as in the contract. */
  readonly id: string
  /** Half a sentence for lists and the index. */
  readonly title: string
  readonly severity: Severity
}

/** Reads the text and its modal state; runs on every program, sheet or not. */
export interface TextRule extends AnyRule {
  readonly reads: 'text'
  check(program: Program, report: Reporter): void
}

/** Reads one run of a program in the wood; runs for every set-up and copy. */
export interface RunRule extends AnyRule {
  readonly reads: 'run'
  check(run: Run, sheet: Sheet, report: Reporter): void
}

/** Reads the job; runs for every copy. */
export interface JobRule extends AnyRule {
  readonly reads: 'job'
  check(job: JobOutcome, copy: JobOutcome['copies'][number], report: Reporter): void
}

/** Reads the sheet as it is written. */
export interface SheetRule extends AnyRule {
  readonly reads: 'sheet'
  check(sheet: SheetDocument, report: Reporter): void
}

export type Rule = TextRule | RunRule | JobRule | SheetRule

/** A finding as it reaches a person: the contract's section 3. */
export interface Finding {
  /** URI. */
  readonly file: string
  readonly code: string
  readonly severity: Severity
  /** URI of the sheet, where the finding is true of a job. */
  readonly sheet?: string
  readonly setup?: string
  /** Copies it is true of; absent where the blank lists none or all are. */
  readonly copies?: readonly string[]
  readonly range: Range
  readonly message: string
  readonly found?: number
  readonly limit?: number
  readonly related: readonly { readonly file: string; readonly range: Range; readonly message: string }[]
}
