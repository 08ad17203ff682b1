import {
  type CodeAction,
  CodeActionKind,
  type CodeActionParams,
  type DocumentFormattingParams,
  type DocumentRangeFormattingParams,
  type TextEdit,
} from 'vscode-languageserver'
import type { Checked, CheckSettings } from '../features/check.ts'
import type { RewriteParams, RewriteResult } from '../features/editorMessages.ts'
import { noWorse } from '../features/fixes/noWorse.ts'
import { checkedWith } from '../features/fixes/trial.ts'
import { type Kind, REWRITES } from '../features/rewrites/catalogue.ts'
import { rewrite } from '../features/rewrites/rewrite.ts'
import { type Edit, edited, type Rewritten, type Source, sourceOf } from '../features/rewrites/source.ts'
import { tidied } from '../features/rewrites/tidy.ts'
import type { Run } from '../job/outcome.ts'
import { normalUri } from '../job/uris.ts'
import type { Workspace } from '../job/workspace.ts'
import { readProgram } from '../machine/readProgram.ts'
import type { Range } from '../syntax/source.ts'
import type { Checker } from './checker.ts'
import type { Client } from './client.ts'
import { wants } from './codeActions.ts'
import type { Documents } from './documents.ts'
import type { OpenProgram } from './openProgram.ts'

/** What a rewrite needs of the session. */
export interface Desk {
  readonly client: Client
  readonly checker: Checker
  readonly documents: Documents
  openProgram(uri: string): OpenProgram | undefined
  settings(uri: string): Promise<CheckSettings>
  /** The open texts over the files, as they are now. */
  files(): Workspace & { current(): boolean }
  tell(message: string): void
}

/** What an action carries until somebody chooses it. */
interface Chosen {
  readonly uri: string
  readonly range: Range
  readonly rewrite: string
}

/** Lines of open programs written anew: as actions, as answers to our own client, and as formatting. */
export class Rewriting {
  readonly #desk: Desk

  constructor(desk: Desk) {
    this.#desk = desk
  }

  /**
   * The rewrites for lines that are chosen, or whenever refactorings are asked for by name. What they do is worked out
   * when one is taken, for clients that can ask then.
   */
  async actions({ textDocument, range, context }: CodeActionParams, signal: AbortSignal): Promise<CodeAction[]> {
    const open = this.#desk.openProgram(textDocument.uri)
    const { client } = this.#desk
    const named = context.only !== undefined
    const chosen = range.start.line !== range.end.line || range.start.character !== range.end.character
    if (!open || !(named || chosen)) return []
    const actions: CodeAction[] = []
    for (const kind of REWRITES as readonly Kind[]) {
      const kindOfAction = `${CodeActionKind.RefactorRewrite}.${kind.id}`
      if (!wants(context.only, kindOfAction)) continue
      if (kind.question && client.options.asks) {
        const command = { title: kind.title, command: 'treen.rewrite', arguments: [kind.id, textDocument.uri, range] }
        actions.push({ title: `${kind.title} …`, kind: kindOfAction, command })
        continue
      }
      if (kind.question && !kind.question.unasked) continue
      const data: Chosen = { uri: textDocument.uri, range, rewrite: kind.id }
      const action: CodeAction = { title: kind.title, kind: kindOfAction, data }
      if (client.resolvesEdits) actions.push(action)
      else if (named) {
        const { data: _, ...known } = await this.resolve(action, signal)
        if (known.edit) actions.push(known)
      }
    }
    return actions
  }

  /** The edit of an action that was chosen; where it is refused the reason is told. */
  async resolve(action: CodeAction, signal: AbortSignal): Promise<CodeAction> {
    const data = action.data as Chosen | undefined
    if (!data) return action
    const kind = (REWRITES as readonly Kind[]).find(({ id }) => id === data.rewrite)
    const result = await this.rewrite({ ...data, answer: kind?.question?.value ?? '' }, signal)
    if ('why' in result) {
      if (this.#desk.client.resolvesEdits) this.#desk.tell(`${action.title}: ${result.why}`)
      return action
    }
    return { ...action, edit: this.#desk.client.editOf(data.uri, result.version, [...result.edits]) }
  }

  /** The edits of one rewrite, in the client's columns. */
  async rewrite(params: RewriteParams, signal: AbortSignal): Promise<RewriteResult> {
    const uri = normalUri(params.uri)
    const checks = await this.#desk.checker.checksOf(uri, signal)
    const open = this.#desk.openProgram(uri)
    const version = this.#desk.documents.version(uri)
    const text = this.#desk.documents.get(uri)?.getText()
    if (!open || version === undefined || text === undefined) return { why: 'Open the program first.' }
    const source = await this.#sourceOf(uri, open, text, params.range, checks)
    const result = rewrite(
      source,
      params.rewrite,
      params.answer,
      checks.flatMap(check => runsOf(check, uri)),
    )
    const judged = params.rewrite === 'withoutAir' ? await this.#stillCuts(uri, source, checks, result, signal) : result
    if ('why' in judged) return judged
    return { version, edits: judged.edits.map(edit => put(open, edit)), notes: judged.notes }
  }

  async #sourceOf(uri: string, open: OpenProgram, text: string, range: Range | undefined, checks: readonly Checked[]) {
    const dialect =
      checks.find(({ outcome }) => outcome)?.outcome?.sheet.machine.dialect ?? (await this.#desk.settings(uri)).dialect
    const program = readProgram(new TextEncoder().encode(text), { dialect })
    const own = range && { start: open.positionIn(range.start), end: open.positionIn(range.end) }
    return sourceOf(text, program, dialect, own)
  }

  /** What goes over air at rapid is tried in every job: nothing may be found that was not found before. */
  async #stillCuts(
    uri: string,
    source: Source,
    checks: readonly Checked[],
    result: Rewritten,
    signal: AbortSignal,
  ): Promise<Rewritten> {
    if ('why' in result) return result
    const settings = await this.#desk.settings(uri)
    for (const checked of checks) {
      const kept = this.#desk.checker.keptOf(checked.uri)
      if (!kept) continue
      const trial = { workspace: this.#desk.files(), checked, settings, kept, signal }
      const after = await checkedWith(trial, uri, edited(source.text, result.edits))
      if (!noWorse(checked, after))
        return { why: 'Without it something else would be found in the job. Nothing was done.' }
    }
    return result
  }

  format({ textDocument }: DocumentFormattingParams): TextEdit[] {
    return this.#tidied(textDocument.uri, undefined)
  }

  formatRange({ textDocument, range }: DocumentRangeFormattingParams): TextEdit[] {
    return this.#tidied(textDocument.uri, range)
  }

  #tidied(uri: string, range: Range | undefined): TextEdit[] {
    const open = this.#desk.openProgram(uri)
    const text = this.#desk.documents.get(normalUri(uri))?.getText()
    if (!open || text === undefined) return []
    const last =
      range && range.end.character === 0 && range.end.line > range.start.line ? range.end.line - 1 : range?.end.line
    return tidied(text, range?.start.line, last).map(edit => put(open, edit))
  }
}

const put = (open: OpenProgram, { range, text }: Edit): TextEdit => ({ range: open.rangeOut(range), newText: text })

/** The runs of a program in the job of a check. */
export function runsOf({ outcome }: Checked, uri: string): Run[] {
  if (!outcome) return []
  const runs = outcome.copies.flatMap(copy => copy.setups.flatMap(setup => setup.run ?? []))
  return runs.filter(run => run.setup.program === uri)
}
