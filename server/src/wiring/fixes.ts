import { type CodeAction, CodeActionKind, type CodeActionParams } from 'vscode-languageserver'
import type { Checked, CheckSettings } from '../features/check.ts'
import { difference, fixAll } from '../features/fixes/fixAll.ts'
import { fixesFor, isFixable } from '../features/fixes/fixesFor.ts'
import type { Fix } from '../features/sheet/fix.ts'
import type { Workspace } from '../job/workspace.ts'
import { type Finding, GRAVITY } from '../rules/rule.ts'
import type { Range } from '../syntax/source.ts'
import type { Checker } from './checker.ts'
import type { Client } from './client.ts'
import type { Putting } from './diagnostics.ts'
import type { Documents } from './documents.ts'
import { isAbort } from './handling.ts'

/** The kind of an action that mends a whole text. */
export const FIX_ALL = `${CodeActionKind.SourceFixAll}.treen`

/** What an action that mends all of a kind carries until it is chosen. */
export interface AllOfKind {
  readonly uri: string
  readonly code: string
}

const titleOfAll = (code: string | undefined, fixed: number) =>
  code === undefined ? `Fix ${fixed} findings` : `Fix ${fixed} of: ${code}`

/** Edits that do away with what is found at a place of an open text. */
export class Fixes {
  readonly #client: Client
  readonly #checker: Checker
  readonly #documents: Documents
  readonly #put: Putting
  /** Editors ask at every move of the caret, and a fix is tried on the whole job: once for each finding is enough. */
  readonly #known = new WeakMap<Finding, Promise<readonly Fix[]>>()

  constructor(client: Client, checker: Checker, documents: Documents, put: Putting) {
    this.#client = client
    this.#checker = checker
    this.#documents = documents
    this.#put = put
  }

  /** @param files the open texts over the files, as the fixes are to be tried on them */
  async at(
    uri: string,
    range: Range,
    { context }: CodeActionParams,
    files: Workspace,
    settings: CheckSettings,
    signal: AbortSignal,
  ): Promise<CodeAction[]> {
    const actions = new Map<string, CodeAction>()
    // Editors list them as they come, and Enter takes the first: a cure of what is worst.
    const worstFirst = [...this.#checker.foundAt(uri, range)].sort(
      (a, b) => GRAVITY[b.found.severity] - GRAVITY[a.found.severity],
    )
    for (const { checked, found } of worstFirst) {
      const at = this.#put.rangeOut(uri, found.range)
      const diagnostics = context.diagnostics.filter(
        each => each.code === found.code && each.range.start.line === at.start.line,
      )
      for (const finding of found.origins ?? [found]) {
        for (const fix of await this.#fixesOf(checked, finding, files, settings, signal)) {
          actions.set(fix.title, { ...this.#actionOf(fix), diagnostics })
        }
      }
    }
    return [...actions.values()]
  }

  async #fixesOf(
    checked: Checked,
    finding: Finding,
    files: Workspace,
    settings: CheckSettings,
    signal: AbortSignal,
  ): Promise<readonly Fix[]> {
    for (let known = this.#known.get(finding); known; known = this.#known.get(finding)) {
      try {
        return await known
      } catch (error) {
        // Whoever asked first has given up; we have not, and begin anew.
        signal.throwIfAborted()
        if (!isAbort(error)) throw error
        if (this.#known.get(finding) === known) this.#known.delete(finding)
      }
    }
    const work = this.#work(checked, finding, files, settings, signal)
    this.#known.set(finding, work)
    try {
      return await work
    } catch (error) {
      if (this.#known.get(finding) === work) this.#known.delete(finding)
      throw error
    }
  }

  async #work(
    checked: Checked,
    finding: Finding,
    workspace: Workspace,
    settings: CheckSettings,
    signal: AbortSignal,
  ): Promise<readonly Fix[]> {
    const kept = this.#checker.keptOf(checked.uri)
    return kept ? fixesFor({ workspace, checked, settings, kept, signal }, finding) : []
  }

  /**
   * What does away with all findings of an open text at once, or with all of one kind; where they are many this takes
   * long, so it is worked out only for who asks for it by name or has chosen it.
   */
  async all(
    uri: string,
    code: string | undefined,
    files: Workspace,
    settings: CheckSettings,
    signal: AbortSignal,
  ): Promise<CodeAction | undefined> {
    const [checked] = await this.#checker.checksOf(uri, signal)
    const text = this.#documents.get(uri)?.getText()
    const kept = checked && this.#checker.keptOf(checked.uri)
    if (text === undefined || !kept) return undefined
    const trial = { workspace: files, checked, settings, kept, signal }
    const { text: after, fixed } = await fixAll(trial, uri, code)
    if (fixed === 0) return undefined
    const action = this.#actionOf({ title: titleOfAll(code, fixed), file: uri, edits: difference(text, after) })
    return { ...action, kind: code === undefined ? FIX_ALL : CodeActionKind.QuickFix }
  }

  /** Offers to fix all of a kind, for each kind at a range that is found more than once and can be fixed. */
  ofKinds(uri: string, range: Range): CodeAction[] {
    const codes = new Set(this.#checker.foundAt(uri, range).map(({ found }) => found.code))
    return [...codes].flatMap(code => {
      const count = this.#checker.countOf(uri, code)
      if (count < 2 || !isFixable(code)) return []
      const data: AllOfKind = { uri: this.#put.uriOut(uri), code }
      return [{ title: `Fix what can be fixed of all ${count}: ${code}`, kind: CodeActionKind.QuickFix, data }]
    })
  }

  #actionOf({ title, file, edits }: Omit<Fix, 'finding'>): CodeAction {
    const uri = this.#put.uriOut(file)
    const version = this.#documents.version(file) ?? null
    const changes = edits.map(({ range, text }) => ({ range: this.#put.rangeOut(file, range), newText: text }))
    return { title, kind: CodeActionKind.QuickFix, edit: this.#client.editOf(uri, version, changes) }
  }
}
