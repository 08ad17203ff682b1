import { commentSheet } from '../job/commentSheet.ts'
import { findSheets, SHEET_ENDING } from '../job/findSheets.ts'
import { diametersFor, loadJob, newProgramShelf, type ProgramShelf, type Reach } from '../job/loadJob.ts'
import { type Memo, newMemo, toldMemo } from '../job/memo.ts'
import type { JobOutcome } from '../job/outcome.ts'
import { LIMITS, type Usual } from '../job/reading/defaults.ts'
import type { LoadedJob } from '../job/runJob.ts'
import type { Limits, Sheet } from '../job/sheet.ts'
import { folderOf, liesIn } from '../job/uris.ts'
import type { Workspace } from '../job/workspace.ts'
import type { DialectChoice } from '../machine/dialect.ts'
import type { Program } from '../machine/program.ts'
import { readProgram } from '../machine/readProgram.ts'
import { checkJob, checkSheet } from '../rules/checkJob.ts'
import { checkProgram } from '../rules/checkProgram.ts'
import type { Finding, CheckResult as Ruled, Severity } from '../rules/rule.ts'
import { runJobInTurns } from './jobInTurns.ts'

/** What a person can set beside the sheet. */
export interface CheckSettings {
  /** By finding code: overrides the rule's own severity. */
  readonly severity: Readonly<Record<string, Severity | 'off'>>
  /** For programs that no sheet names, and where a sheet does not say. */
  readonly dialect: DialectChoice
  /** What holds where a sheet does not say, mm; the contract's own where absent. */
  readonly limits?: Limits
  /** URIs of the folders above which no sheet is looked for. */
  readonly roots: readonly string[]
  /** A sheet may name programs outside the root that it lies under (outside all roots: outside its own folder). */
  readonly anywhere?: boolean
  /** Bytes above which a program is checked as text only; without it, none is. */
  readonly largestText?: number
}

/** One thing that is checked as a whole: a sheet with its programs, or a program that no sheet names. */
export interface Checked extends Ruled {
  /** URI of the sheet or of the lone program. */
  readonly uri: string
  /** Absent where there is no job, or none could be made of the sheet. */
  readonly outcome?: JobOutcome
  /** Every program read, by URI. */
  readonly programs: ReadonlyMap<string, Program>
  /** What a person should know besides, one line each: why something was not checked. */
  readonly notes: readonly string[]
}

/** Is told how a check comes on: before each step, which one of how many units it belongs to. */
export type Watch = (unit: { readonly index: number; readonly total: number; readonly uri: string }) => void

/** A unit that was checked, with what it takes to try another text in it. */
export interface CheckedUnit {
  readonly checked: Checked
  readonly kept: Kept
}

/** A file asked for that could not be read, and why, in plain words. */
export interface Unreadable {
  readonly file: string
  readonly why: string
}

/** All that came of one or several URIs. */
export interface CheckResult extends Ruled {
  /** Each unit by itself. */
  readonly checks: readonly Checked[]
  /** One for each sheet whose job could be worked out, and one for each program that declares its own blank. */
  readonly outcomes: readonly JobOutcome[]
  /** Every program read, by URI. */
  readonly programs: ReadonlyMap<string, Program>
  readonly unreadable: readonly Unreadable[]
}

/**
 * Checks whatever the URIs name: a sheet with all its programs, a program in every job whose sheet names it, a program
 * that declares its own blank, or a bare program (language findings only). Each sheet is worked out once, however many
 * of the URIs lead to it. One unit after the other, so that who checks thousands of them need not hold them all: the
 * wood of one is some hundred megabytes. Never throws for what a file holds; throws the signal's reason once it is
 * aborted.
 */
export async function* checkEach(
  workspace: Workspace,
  uris: readonly string[],
  settings: CheckSettings,
  signal?: AbortSignal,
  watch: Watch = () => {},
): AsyncGenerator<CheckedUnit | Unreadable> {
  const units = new Set<string>()
  for (const uri of uris) {
    const why = await whyUnreadable(workspace, uri)
    if (why) yield { file: uri, why }
    else for (const unit of await unitsOf(workspace, uri, settings)) units.add(unit)
  }
  let index = 0
  for (const uri of units) {
    const kept = newKept()
    const told = () => watch({ index, total: units.size, uri })
    told()
    const toldKept = { ...kept, memo: toldMemo(kept.memo, told) }
    yield { checked: await checkUnit(workspace, uri, settings, toldKept, signal), kept }
    index++
  }
}

/** `checkEach`, all of it held together. */
export async function checkUris(
  workspace: Workspace,
  uris: readonly string[],
  settings: CheckSettings,
  signal?: AbortSignal,
): Promise<CheckResult> {
  const unreadable: Unreadable[] = []
  const checks: Checked[] = []
  for await (const each of checkEach(workspace, uris, settings, signal)) {
    if ('why' in each) unreadable.push(each)
    else checks.push(each.checked)
  }
  return {
    checks,
    findings: checks.flatMap(check => check.findings),
    suppressed: checks.flatMap(check => check.suppressed),
    withheld: checks.flatMap(check => check.withheld),
    outcomes: checks.flatMap(check => check.outcome ?? []),
    programs: new Map(checks.flatMap(check => [...check.programs])),
    unreadable,
  }
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

export function isSheet(uri: string): boolean {
  return uri.endsWith(SHEET_ENDING)
}

/** What is kept from one check of a unit to the next, so that only what an edit touches is worked out again. */
export interface Kept {
  readonly shelf: ProgramShelf
  readonly memo: Memo
}

export function newKept(): Kept {
  return { shelf: newProgramShelf(), memo: newMemo() }
}

/** The sheets that a program belongs to, or the program itself where there is none; a sheet is its own unit. */
export async function unitsOf(workspace: Workspace, uri: string, settings: CheckSettings): Promise<readonly string[]> {
  if (isSheet(uri)) return [uri]
  const sheets = await findSheets(workspace, uri, settings.roots)
  return sheets.length > 0 ? sheets : [uri]
}

/** Checks one unit as a whole. */
export async function checkUnit(
  workspace: Workspace,
  uri: string,
  settings: CheckSettings,
  kept: Kept = newKept(),
  signal?: AbortSignal,
): Promise<Checked> {
  signal?.throwIfAborted()
  const bytes = await workspace.read(uri)
  signal?.throwIfAborted()
  if (bytes === undefined) return nothing(uri)
  if (isBinary(bytes)) return { ...nothing(uri), notes: [notText] }
  return isSheet(uri)
    ? checkSheetUnit(workspace, uri, settings, kept, signal)
    : checkLone(uri, bytes, settings, kept, signal)
}

function usualOf({ dialect, limits = LIMITS }: CheckSettings): Usual {
  return { dialect, limits }
}

async function checkSheetUnit(
  workspace: Workspace,
  uri: string,
  settings: CheckSettings,
  kept: Kept,
  signal: AbortSignal | undefined,
): Promise<Checked> {
  const loaded = await loadJob(workspace, uri, kept.shelf, usualOf(settings), reachOf(uri, settings))
  signal?.throwIfAborted()
  if (!loaded) return nothing(uri)
  return checkLoaded(uri, loaded, settings, kept, signal)
}

/** A program that no sheet names: in the wood that it declares itself, or as text alone. */
async function checkLone(
  uri: string,
  bytes: Uint8Array,
  settings: CheckSettings,
  { shelf, memo }: Kept,
  signal: AbortSignal | undefined,
): Promise<Checked> {
  const program = shelf.read(uri, bytes, settings.dialect)
  const tooLarge = settings.largestText !== undefined && bytes.length > settings.largestText
  const document = tooLarge || program.forPrinter ? undefined : commentSheet(uri, program, usualOf(settings))
  if (document?.sheet) {
    // The bits are known only now; what moves a bit aside by its radius waits for that.
    const diameters = program.notSimulated.length > 0 ? diametersFor(document.sheet, uri) : undefined
    const known = diameters ? shelf.read(uri, bytes, settings.dialect, diameters) : program
    return checkLoaded(uri, { document, programs: new Map([[uri, known]]) }, settings, { shelf, memo }, signal)
  }
  const programs = new Map([[uri, program]])
  const text = checkProgram(uri, program, settings)
  const declared = document ? checkSheet(document, settings).findings : []
  const notes = tooLarge ? ['this program is so large that only its text is checked'] : []
  return { uri, ...text, findings: [...text.findings, ...declared], programs, notes }
}

async function checkLoaded(
  uri: string,
  loaded: LoadedJob,
  settings: CheckSettings,
  { memo }: Kept,
  signal: AbortSignal | undefined,
): Promise<Checked> {
  const { document, programs } = loaded
  const outcome = await runJobInTurns(loaded, memo, signal)
  if (!outcome) return { uri, ...checkSheet(document, settings), programs, notes: [] }
  return { uri, ...checkJob(outcome, settings), outcome, programs, notes: [] }
}

/** What can be said of a program of a job at once, without the wood: the language's findings. */
export async function checkText(
  workspace: Workspace,
  uri: string,
  settings: CheckSettings,
  sheet: Sheet,
): Promise<readonly Finding[]> {
  const bytes = await workspace.read(uri)
  if (bytes === undefined || isBinary(bytes)) return []
  const program = readProgram(bytes, { dialect: sheet.machine.dialect, toolDiameters: diametersFor(sheet, uri) })
  return checkProgram(uri, program, settings).findings
}

function nothing(uri: string): Checked {
  return { uri, findings: [], suppressed: [], withheld: [], programs: new Map(), notes: [] }
}

const notText = 'this file is not text'

async function whyUnreadable(workspace: Workspace, uri: string): Promise<string | undefined> {
  const bytes = await workspace.read(uri)
  if (bytes === undefined) return 'there is no such file, or it cannot be read'
  return isBinary(bytes) ? notText : undefined
}

/** No text holds a zero byte, and what is no text holds one near its start. */
function isBinary(bytes: Uint8Array): boolean {
  return bytes.subarray(0, 8192).includes(0)
}

/** Which programs a sheet may name: a sheet from elsewhere is not to reach whatever lies on the disk. */
function reachOf(sheet: string, { roots, anywhere, largestText: largest }: CheckSettings): Reach {
  if (anywhere) return { largest }
  const around = roots.filter(root => liesIn(sheet, root))
  const folders = around.length > 0 ? around : [folderOf(sheet)]
  return { largest, mayRead: program => folders.some(folder => liesIn(program, folder)) }
}
