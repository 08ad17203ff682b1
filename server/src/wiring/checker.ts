import {
  type Checked,
  type CheckSettings,
  checkText,
  checkUnit,
  isSheet,
  type Kept,
  newKept,
  unitsOf,
} from '../features/check.ts'
import { atBothEnds, type Shown } from '../features/sheet/bothEnds.ts'
import type { Sheet } from '../job/sheet.ts'
import type { Workspace } from '../job/workspace.ts'
import type { Finding } from '../rules/rule.ts'
import type { Position, Range } from '../syntax/source.ts'
import type { Documents } from './documents.ts'
import { Snapshot } from './editorWorkspace.ts'
import { isAbort } from './handling.ts'

/** What the checker tells, and what it needs from the editor. */
export interface CheckerHost {
  settings(uri: string): Promise<CheckSettings>
  /** All that is to be shown of a file now, open or not. */
  show(file: string, findings: readonly Finding[]): void
  /** How an open text stands: undefined while it is being checked. */
  stands(uri: string, checks: readonly Checked[] | undefined): void
  /** Runs work that may take long; `abort` gives it up. */
  watch<T>(abort: () => void, work: () => Promise<T>): Promise<T>
  fault(error: unknown): void
}

/** One thing that is checked as a whole: a job sheet with its programs, or a program that no sheet names. */
interface Unit {
  readonly uri: string
  readonly snapshot: Snapshot
  readonly result: Checked
  readonly shown: readonly Shown[]
}

/**
 * Keeps the findings of the open texts true. An edit is checked as text at once; then every job that the text belongs
 * to is worked out anew, and with it the findings of its other programs and of its sheet. Nothing is shown that was
 * found in a version of any text that has gone since: each piece of work knows what it read, and is thrown away when
 * one of these has changed, during every `await`.
 */
export class Checker {
  readonly #documents: Documents
  readonly #files: Workspace
  readonly #host: CheckerHost
  /** Open texts that wait to be checked, the last edited first. */
  #waiting: string[] = []
  #running = false
  #work: { readonly snapshot: Snapshot; readonly abort: AbortController } | undefined
  readonly #units = new Map<string, Unit>()
  readonly #kept = new Map<string, Kept>()
  readonly #unitsOfOpen = new Map<string, readonly string[]>()
  /** What the text alone last said, without places: while that stays the same, nothing is shown before the job is done. */
  readonly #textSaid = new Map<string, string>()
  #settled: (() => void)[] = []

  constructor(documents: Documents, files: Workspace, host: CheckerHost) {
    this.#documents = documents
    this.#files = files
    this.#host = host
  }

  /** A text was opened or edited. */
  changed(uri: string): void {
    this.#outdate(uri)
    this.#wait(uri, true)
  }

  closed(uri: string): void {
    this.#unitsOfOpen.delete(uri)
    this.#textSaid.delete(uri)
    this.#waiting = this.#waiting.filter(each => each !== uri)
    this.#show(new Set([uri, ...this.#dropUnwanted().flatMap(filesOf)]))
    // What was unsaved in it counts no more: other open programs of its job are checked against the file.
    this.#outdate(uri)
  }

  /** Files changed, came or went outside the editor; settings changed (no URI). */
  outside(uris?: readonly string[]): void {
    if (!uris || uris.some(uri => uri.endsWith('.jobsheet.json'))) {
      // They stay known until they are checked again: what they showed in files that are not open is to be taken back.
      for (const unit of this.#units.values()) unit.snapshot.outdate()
      this.#work?.abort.abort()
      for (const open of this.#documents.uris()) this.#wait(open, false)
      return
    }
    for (const uri of uris) if (this.#documents.version(uri) === undefined) this.#outdate(uri)
  }

  /** What is found at a range of an open text that has been checked, each with the check that found it. */
  foundAt(uri: string, { start, end }: Range): { readonly checked: Checked; readonly found: Shown }[] {
    const units = (this.#unitsOfOpen.get(uri) ?? []).flatMap(name => this.#units.get(name) ?? [])
    return units.flatMap(({ result, shown }) =>
      shown
        .filter(found => found.file === uri && !isBefore(found.range.end, start) && !isBefore(end, found.range.start))
        .map(found => ({ checked: result, found })),
    )
  }

  /** How often something is found in an open text. */
  countOf(uri: string, code: string): number {
    const units = (this.#unitsOfOpen.get(uri) ?? []).flatMap(name => this.#units.get(name) ?? [])
    return units.reduce((most, { shown }) => {
      return Math.max(most, shown.filter(found => found.file === uri && found.code === code).length)
    }, 0)
  }

  /** The checks that an open text belongs to, once they are those of its present version. */
  async checksOf(uri: string, signal: AbortSignal): Promise<readonly Checked[]> {
    while (this.#waiting.includes(uri) || this.#work) {
      signal.throwIfAborted()
      await new Promise<void>(resolve => {
        this.#settled.push(resolve)
        signal.addEventListener('abort', () => resolve(), { once: true })
      })
    }
    signal.throwIfAborted()
    return this.#resultsOf(uri)
  }

  /** The same, where they are known already. */
  knownChecksOf(uri: string): readonly Checked[] | undefined {
    const units = (this.#unitsOfOpen.get(uri) ?? []).map(name => this.#units.get(name))
    const fresh = units.flatMap(unit => (unit?.snapshot.current() ? unit.result : []))
    return fresh.length > 0 && fresh.length === units.length ? fresh : undefined
  }

  /** The same as they were last known, perhaps of an older text; empty before the first check. */
  lastChecksOf(uri: string): readonly Checked[] {
    return this.#resultsOf(uri)
  }

  /** What was kept of the last check of a unit. */
  keptOf(unit: string): Kept | undefined {
    return this.#kept.get(unit)
  }

  /** The check in which a file was read last, for the text of its lines. */
  checkOfFile(file: string): Checked | undefined {
    return [...this.#units.values()].find(unit => unit.snapshot.seen.has(file))?.result
  }

  #resultsOf(uri: string): Checked[] {
    const units = this.#unitsOfOpen.get(uri) ?? []
    return units.flatMap(name => this.#units.get(name)?.result ?? [])
  }

  /** Gives up the work and drops the results that a text went into, and lets the open texts of these wait again. */
  #outdate(uri: string): void {
    if (this.#work?.snapshot.seen.has(uri)) this.#work.abort.abort()
    for (const unit of [...this.#units.values()]) {
      if (!unit.snapshot.seen.has(uri)) continue
      unit.snapshot.outdate()
      for (const [open, units] of this.#unitsOfOpen) if (units.includes(unit.uri)) this.#wait(open, false)
    }
  }

  #wait(uri: string, first: boolean): void {
    const others = this.#waiting.filter(each => each !== uri)
    this.#waiting = first ? [uri, ...others] : [...others, uri]
    if (this.#running) return
    this.#running = true
    void this.#run()
  }

  async #run(): Promise<void> {
    try {
      for (;;) {
        // Edits that have arrived already are taken first: a burst of them is checked once.
        await new Promise(resolve => setTimeout(resolve, 0))
        const uri = this.#waiting.shift()
        if (uri === undefined) break
        try {
          if (this.#documents.get(uri)) await this.#check(uri)
        } catch (error) {
          if (isAbort(error)) this.#waitAgain(uri)
          else this.#host.fault(error)
        } finally {
          this.#work = undefined
          const told = this.#settled
          this.#settled = []
          for (const tell of told) tell()
        }
      }
    } finally {
      this.#running = false
    }
  }

  #waitAgain(uri: string): void {
    if (this.#documents.get(uri) && !this.#waiting.includes(uri)) this.#waiting.push(uri)
  }

  async #check(uri: string): Promise<void> {
    this.#host.stands(uri, undefined)
    const settings = await this.#host.settings(uri)
    const { snapshot, signal } = this.#begin()
    const names = await unitsOf(snapshot, uri, settings)
    this.#stillTrue(snapshot, signal)
    const sheet = this.#sheetOf(names, uri)
    if (sheet) {
      const text = await checkText(snapshot, uri, settings, sheet)
      this.#stillTrue(snapshot, signal)
      const said = text.map(finding => `${finding.code} ${finding.message}`).join('\n')
      if (said !== (this.#textSaid.get(uri) ?? '')) this.#host.show(uri, text)
      this.#textSaid.set(uri, said)
    }
    const before = this.#unitsOfOpen.get(uri) ?? []
    this.#unitsOfOpen.set(uri, names)
    const touched = new Set([uri, ...before.flatMap(name => filesOf(this.#units.get(name)))])
    for (const name of names) {
      const known = this.#units.get(name)
      for (const file of filesOf(known)) touched.add(file)
      if (known?.snapshot.current()) continue
      // A sheet is judged by the settings of its own folder, whichever of its programs is open.
      const unit = await this.#checkUnit(name, name === uri ? settings : await this.#host.settings(name))
      this.#units.set(name, unit)
      for (const file of filesOf(unit)) touched.add(file)
    }
    this.#dropUnwanted()
    this.#show(touched)
    this.#host.stands(uri, this.#resultsOf(uri))
  }

  /**
   * The sheet that a program is read by, where its text is worth a check of its own before its job: the job takes long and is
   * known from before. Of a program without wood the text is all there is.
   */
  #sheetOf(units: readonly string[], uri: string): Sheet | undefined {
    return isSheet(uri) ? undefined : this.#units.get(units[0])?.result.outcome?.sheet
  }

  async #checkUnit(uri: string, settings: CheckSettings): Promise<Unit> {
    const { snapshot, signal, abort } = this.#begin()
    const kept = this.#kept.get(uri) ?? newKept()
    this.#kept.set(uri, kept)
    const result = await this.#host.watch(
      () => abort.abort(),
      () => checkUnit(snapshot, uri, settings, kept, signal),
    )
    this.#stillTrue(snapshot, signal)
    return { uri, snapshot, result, shown: atBothEnds(result.findings) }
  }

  #begin(): { snapshot: Snapshot; signal: AbortSignal; abort: AbortController } {
    const abort = new AbortController()
    const snapshot = new Snapshot(this.#documents, this.#files)
    this.#work = { snapshot, abort }
    return { snapshot, signal: abort.signal, abort }
  }

  /** @throws AbortError where the work was given up, or read a text that has changed since. */
  #stillTrue(snapshot: Snapshot, signal: AbortSignal): void {
    signal.throwIfAborted()
    if (!snapshot.current()) throw new DOMException('The text has changed', 'AbortError')
  }

  /** Forgets what no open text belongs to; returns what was forgotten. */
  #dropUnwanted(): Unit[] {
    const wanted = new Set([...this.#unitsOfOpen.values()].flat())
    const gone = [...this.#units.values()].filter(unit => !wanted.has(unit.uri))
    for (const { uri } of gone) this.#units.delete(uri)
    for (const uri of [...this.#kept.keys()]) if (!wanted.has(uri)) this.#kept.delete(uri)
    return gone
  }

  #show(files: ReadonlySet<string>): void {
    const all = [...this.#units.values()].flatMap(unit => unit.shown)
    for (const file of files) {
      // An open text that still waits is shown when its own turn has come.
      if (this.#waiting.includes(file)) continue
      this.#host.show(file, once(all.filter(finding => finding.file === file)))
    }
  }
}

function filesOf(unit: Unit | undefined): string[] {
  return unit ? unit.shown.map(finding => finding.file) : []
}

function isBefore(a: Position, b: Position): boolean {
  return a.line < b.line || (a.line === b.line && a.character < b.character)
}

/** The same thing found in two jobs is one finding to a reader of the file. */
function once(findings: readonly Finding[]): Finding[] {
  const known = new Map<string, Finding>()
  for (const finding of findings) {
    const { start, end } = finding.range
    const key = [finding.code, start.line, start.character, end.line, end.character, finding.message].join(' ')
    if (!known.has(key)) known.set(key, finding)
  }
  return [...known.values()]
}
