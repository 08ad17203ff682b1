import { type CodeAction, CodeActionKind, type CodeActionParams } from 'vscode-languageserver'
import type { Checked, CheckSettings } from '../features/check.ts'
import type { Fix } from '../features/sheet/fix.ts'
import { levelFixes } from '../features/sheet/levelFix.ts'
import { nameFixes } from '../features/sheet/nameFix.ts'
import type { Workspace } from '../job/workspace.ts'
import type { Finding } from '../rules/rule.ts'
import type { Range } from '../syntax/source.ts'
import type { Checker } from './checker.ts'
import type { Client } from './client.ts'
import type { Putting } from './diagnostics.ts'
import type { Documents } from './documents.ts'
import { isAbort } from './handling.ts'

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
    for (const { checked, found } of this.#checker.foundAt(uri, range)) {
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
    if (finding.code.startsWith('sheet/')) {
      const text = this.#documents.get(finding.file)?.getText()
      return text === undefined ? [] : nameFixes(workspace, text, finding)
    }
    const kept = this.#checker.keptOf(checked.uri)
    return kept ? levelFixes({ workspace, checked, finding, settings, kept, signal }) : []
  }

  #actionOf({ title, file, edits }: Fix): CodeAction {
    const uri = this.#put.uriOut(file)
    const version = this.#documents.version(file) ?? null
    const changes = edits.map(({ range, text }) => ({ range: this.#put.rangeOut(file, range), newText: text }))
    const edit = this.#client.editsVersions
      ? { documentChanges: [{ textDocument: { uri, version }, edits: changes }] }
      : { changes: { [uri]: changes } }
    return { title, kind: CodeActionKind.QuickFix, edit }
  }
}
