import {
  type CodeLens,
  type CompletionItem,
  CompletionItemKind,
  type DocumentLink,
  type Hover,
  type Position,
} from 'vscode-languageserver'
import type { Checked } from '../features/check.ts'
import { runJobInTurns } from '../features/jobInTurns.ts'
import { setupLenses } from '../features/sheet/codeLens.ts'
import { type Completion, completionsAt } from '../features/sheet/completion.ts'
import type { KnownJob } from '../features/sheet/effect.ts'
import { sheetHoverAt } from '../features/sheet/hover.ts'
import { programLinks } from '../features/sheet/links.ts'
import { quietMemo } from '../job/memo.ts'
import type { Workspace } from '../job/workspace.ts'
import type { Checker } from './checker.ts'
import type { Client } from './client.ts'
import type { Putting } from './diagnostics.ts'

/** A sheet as the editor shows it now. */
export interface OpenSheet {
  readonly uri: string
  readonly text: string
}

/** What an editor asks of a job sheet. */
export class Sheets {
  readonly #client: Client
  readonly #checker: Checker
  readonly #files: Workspace
  readonly #put: Putting

  constructor(client: Client, checker: Checker, files: Workspace, put: Putting) {
    this.#client = client
    this.#checker = checker
    this.#files = files
    this.#put = put
  }

  /** At once, whatever is being worked out: without the job's figures where they are not known yet. */
  async hover({ uri, text }: OpenSheet, at: Position, signal: AbortSignal): Promise<Hover | null> {
    const known = (this.#checker.knownChecksOf(uri) ?? []).flatMap(check => this.#knownJob(check, signal) ?? [])
    const found = await sheetHoverAt(text, at, known[0])
    if (!found) return null
    return { contents: { kind: 'markdown', value: found.markdown }, range: this.#put.rangeOut(uri, found.range) }
  }

  async lenses({ uri }: OpenSheet, signal: AbortSignal): Promise<CodeLens[]> {
    const checks = await this.#checker.checksOf(uri, signal)
    const lenses = checks.flatMap(({ outcome }) => (outcome ? setupLenses(outcome) : []))
    // A lens must carry a command to be shown at once; one without a name does nothing when chosen.
    const command = this.#client.options.previews ? 'treen.openPreview' : ''
    return lenses.map(({ range, title }) => ({
      range: this.#put.rangeOut(uri, range),
      command: { title, command, arguments: command === '' ? [] : [this.#put.uriOut(uri)] },
    }))
  }

  links({ uri, text }: OpenSheet): DocumentLink[] {
    return programLinks(uri, text).map(({ range, target }) => ({
      range: this.#put.rangeOut(uri, range),
      target: this.#put.uriOut(target),
    }))
  }

  async completions(sheet: OpenSheet, at: Position): Promise<CompletionItem[]> {
    const namesOnly = this.#client.options.knowsSchema === true
    const found = await completionsAt(this.#files, sheet, at, { namesOnly })
    return found.map((completion, index) => this.#itemOf(sheet.uri, completion, index))
  }

  #itemOf(uri: string, { kind, label, detail, about, range, text }: Completion, index: number): CompletionItem {
    return {
      label,
      kind: itemKinds[kind],
      detail,
      ...(about === undefined ? {} : { documentation: { kind: 'markdown', value: about } }),
      // Editors sort by this; what we say first is meant to stand first.
      sortText: String(index).padStart(4, '0'),
      // Editors compare what is typed, which begins with the quote where there is one.
      filterText: text,
      textEdit: { range: this.#put.rangeOut(uri, range), newText: text },
    }
  }

  #knownJob({ uri, outcome, programs }: Checked, signal: AbortSignal): KnownJob | undefined {
    const memo = this.#checker.keptOf(uri)?.memo
    if (!outcome || !memo) return undefined
    return {
      outcome,
      rework: sheet => runJobInTurns({ document: { ...outcome.document, sheet }, programs }, quietMemo(memo), signal),
    }
  }
}

const itemKinds: Record<Completion['kind'], CompletionItemKind> = {
  field: CompletionItemKind.Property,
  choice: CompletionItemKind.EnumMember,
  name: CompletionItemKind.Reference,
  program: CompletionItemKind.File,
}
