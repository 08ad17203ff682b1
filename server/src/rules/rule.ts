import type { JobOutcome, Run } from '../job/outcome.ts'
import type { Sheet } from '../job/sheet.ts'
import type { SheetDocument, SheetPath } from '../job/sheetDocument.ts'
import type { Program } from '../machine/program.ts'
import type { Range, TextSpan } from '../syntax/source.ts'
import type { Cure } from './cure.ts'

export type Severity = 'error' | 'warning' | 'information'

/** Higher is worse. */
export const GRAVITY: Readonly<Record<Severity, number>> = { information: 1, warning: 2, error: 3 }

/** Where a finding points: words of the program at hand or of another one, a field of the sheet, a part of its text. */
export type Place =
  | TextSpan
  | { readonly program: string; readonly span: TextSpan }
  | { readonly field: SheetPath }
  | { readonly range: Range }

/** What a rule says; the engine adds file, severity, set-up and copies. */
export interface Report {
  readonly at: Place
  /** Plain words: what is so, and what will happen at the machine. Holds the number found and the limit. */
  readonly message: string
  readonly found?: number
  readonly limit?: number
  readonly related?: readonly { readonly place: Place; readonly message: string }[]
  /** Overrides the rule's own: only where the contract says so (worst case alone broken, below 0, still shows). */
  readonly severity?: Severity
  /** Job rules: the set-up it belongs to. Run rules get theirs from the engine. */
  readonly setup?: string
  /** How far one cause reaches, where several moves were folded into this report. */
  readonly reach?: Reach
}

/** What one wrong word brought about. */
export interface Reach {
  /** Moves that are wrong because of it. */
  readonly moves: number
  /** First and last line of those moves, 0-based. */
  readonly firstLine: number
  readonly lastLine: number
}

export type Reporter = (report: Report) => void

/** One rule set upon what it reads. */
export type Check = (report: Reporter) => void

interface AnyRule {
  /** `family/what-is-wrong`, as in the contract. */
  readonly id: string
  /** Half a sentence for lists and the index. */
  readonly title: string
  readonly severity: Severity
  /** How its findings are done away with, where that is safe: a rule without one has no fix. */
  readonly fix?: Cure
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

/** Reads the `allow` comments of a program, after every other rule has run. */
export interface AllowanceRule extends AnyRule {
  readonly reads: 'allowances'
  check(allowances: readonly Allowance[], report: Reporter): void
}

/** A comment `(allow CODE: reason)`. */
export interface Allowance {
  readonly span: TextSpan
  readonly code: string
  readonly reason: string
  /** The line it silences. */
  readonly line: number
  /** There is a rule of that code. */
  readonly known: boolean
  /** That rule ran over this program, so that it would have spoken. */
  readonly ran: boolean
  /** It silenced something. */
  readonly used: boolean
}

export type Rule = TextRule | RunRule | JobRule | SheetRule | AllowanceRule

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
  readonly reach?: Reach
  readonly related: readonly { readonly file: string; readonly range: Range; readonly message: string }[]
}

/** A rule that could not run, and why, in plain words. */
export interface Withheld {
  /** URI of the program or sheet. */
  readonly file: string
  /** URI of the sheet, where it was a job that could not be judged. */
  readonly sheet?: string
  /** `job` where figures of the job could not be made, so that whatever reads them is silent. */
  readonly code: string
  readonly why: string
}

/** All that a check has to say. */
export interface CheckResult {
  readonly findings: readonly Finding[]
  /** Silenced by `allow` comments. */
  readonly suppressed: readonly (Finding & { readonly reason: string })[]
  readonly withheld: readonly Withheld[]
}

/** What a person may set. */
export interface CheckOptions {
  /** Severity by code; a rule that is off does not run. */
  readonly severity?: Readonly<Record<string, Severity | 'off'>>
}
