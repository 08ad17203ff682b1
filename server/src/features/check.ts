import type { JobOutcome } from '../job/outcome.ts'
import type { DialectChoice } from '../job/sheet.ts'
import type { Workspace } from '../job/workspace.ts'
import type { Program } from '../machine/program.ts'
import type { Finding, Severity } from '../rules/rule.ts'

/** What a person can set beside the sheet. */
export interface CheckSettings {
  /** By finding code: overrides the rule's own severity. */
  readonly severity: Readonly<Record<string, Severity | 'off'>>
  /** For programs that no sheet names. */
  readonly dialect: DialectChoice
  /** URIs of the folders above which no sheet is looked for. */
  readonly roots: readonly string[]
}

export interface CheckResult {
  readonly findings: readonly Finding[]
  /** Silenced by allow comments. */
  readonly suppressed: readonly Finding[]
  /** Rules that could not run, and why. */
  readonly withheld: readonly Withheld[]
  /** One for each sheet whose job could be worked out, and one for each program that declares its own blank. */
  readonly outcomes: readonly JobOutcome[]
  /** Every program read, by URI. */
  readonly programs: ReadonlyMap<string, Program>
  /** Files asked for that could not be read, and why, in plain words. */
  readonly unreadable: readonly { readonly file: string; readonly why: string }[]
}

/** A rule that could not run, and why. */
export interface Withheld {
  readonly file: string
  readonly sheet?: string
  readonly code: string
  readonly why: string
}

/**
 * Checks whatever the URIs name: a sheet with all its programs, a program in every job whose sheet names it, a program
 * that declares its own blank, or a bare program (language findings only). Each sheet is worked out once, however many
 * of the URIs lead to it. Never throws for what a file holds; throws the signal's reason once it is aborted.
 */
export async function checkUris(
  _workspace: Workspace,
  _uris: readonly string[],
  _settings: CheckSettings,
  signal?: AbortSignal,
): Promise<CheckResult> {
  signal?.throwIfAborted()
  throw new Error('not written yet')
}

/** `checkUris` of one. */
export function checkUri(
  workspace: Workspace,
  uri: string,
  settings: CheckSettings,
  signal?: AbortSignal,
): Promise<CheckResult> {
  return checkUris(workspace, [uri], settings, signal)
}
