import { type CompletionItem, CompletionItemKind, InsertTextFormat, type Position } from 'vscode-languageserver'
import type { Checked, CheckSettings } from '../features/check.ts'
import type {
  InsertedOperation,
  OperationParams,
  OperationResult,
  OperationsParams,
  OperationsResult,
} from '../features/editorMessages.ts'
import { checkedWith } from '../features/fixes/trial.ts'
import { type ProgramCompletion, programCompletions } from '../features/insert/completion.ts'
import { insertablesAt, operationAt } from '../features/insert/insertOperation.ts'
import type { PlaceQuestion } from '../features/insert/siteAt.ts'
import { knownOf } from '../features/reading/known.ts'
import { normalUri } from '../job/uris.ts'
import type { Workspace } from '../job/workspace.ts'
import type { Checker } from './checker.ts'
import type { Client } from './client.ts'
import type { OpenProgram } from './openProgram.ts'
import { settled } from './settled.ts'

/** How long completion waits for the first check of a program, ms: what is older will do. */
const PATIENCE = 500
/** The same for an operation that somebody has chosen. */
const MORE_PATIENCE = 10_000
/** Most findings that an operation is said to raise. */
const MOST_TOLD = 5

/** What an editor asks in order to write: completion, and operations reckoned from the job. */
export class Inserting {
  readonly #client: Client
  readonly #checker: Checker
  readonly #settings: (uri: string) => Promise<CheckSettings>

  constructor(client: Client, checker: Checker, settings: (uri: string) => Promise<CheckSettings>) {
    this.#client = client
    this.#checker = checker
    this.#settings = settings
  }

  async completions(open: OpenProgram, position: Position, signal: AbortSignal): Promise<CompletionItem[]> {
    const at = open.positionIn(position)
    const question = await this.#question(open, at.line, signal, PATIENCE)
    const { dialect } = await this.#settings(normalUri(open.uri))
    const found = programCompletions({ ...question, dialect: question.sheet?.machine.dialect ?? dialect }, at)
    return found.map((completion, index) => this.#itemOf(open, at.line, completion, index))
  }

  async operations(open: OpenProgram, { line }: OperationsParams, signal: AbortSignal): Promise<OperationsResult> {
    const found = insertablesAt(await this.#question(open, line, signal, MORE_PATIENCE))
    return 'why' in found ? found : { operations: found }
  }

  /** The text of an operation, and what the job would find in it: it is tried first. */
  async operation(
    open: OpenProgram,
    { line, id, values }: OperationParams,
    files: Workspace,
    signal: AbortSignal,
  ): Promise<OperationResult> {
    // It is tried in the job, and that has to be the job of the present text.
    await settled(this.#checker, normalUri(open.uri), signal, MORE_PATIENCE)
    const question = await this.#question(open, line, signal, MORE_PATIENCE)
    const inserted = operationAt(question, id, values)
    if ('why' in inserted) return inserted
    const text = `${inserted.lines.join('\n')}\n`
    const raises = await this.#raised(open, question, text, files, signal)
    return { text, raises } satisfies InsertedOperation
  }

  /** What is found with the text in its place, and was not found before. */
  async #raised(
    open: OpenProgram,
    { text, line }: PlaceQuestion,
    inserted: string,
    files: Workspace,
    signal: AbortSignal,
  ): Promise<string[]> {
    const uri = normalUri(open.uri)
    const lines = Array.from({ length: text.lineCount }, (_, n) => text.line(n))
    lines.splice(line, 0, inserted.trimEnd())
    const settings = await this.#settings(uri)
    const told: string[] = []
    for (const checked of this.#checker.knownChecksOf(uri) ?? []) {
      const kept = this.#checker.keptOf(checked.uri)
      if (!kept || !checked.outcome) continue
      const trial = { workspace: files, checked, settings, kept, signal }
      const after = await checkedWith(trial, uri, lines.join('\n'))
      told.push(...newFindings(checked, after))
    }
    return [...new Set(told)].slice(0, MOST_TOLD)
  }

  async #question(open: OpenProgram, line: number, signal: AbortSignal, patience: number): Promise<PlaceQuestion> {
    const uri = normalUri(open.uri)
    // While somebody types, the wood as it was last known will do; only the first check is waited for.
    if (this.#checker.lastChecksOf(uri).length === 0) await settled(this.#checker, uri, signal, patience)
    const checks = this.#checker.lastChecksOf(uri)
    const { runs, sheet } = knownOf(checks, uri)
    const others = checks.flatMap(({ outcome }) => {
      return outcome?.copies.flatMap(copy => copy.setups.flatMap(setup => setup.run ?? [])) ?? []
    })
    return { text: open.text, program: open.program, runs, others, sheet, line }
  }

  #itemOf(open: OpenProgram, line: number, completion: ProgramCompletion, index: number): CompletionItem {
    const { kind, label, detail, about, start, end, text } = completion
    const isSnippet = kind === 'operation' && this.#client.takesSnippets
    return {
      label,
      kind: itemKinds[kind],
      detail,
      ...(about === undefined ? {} : { documentation: { kind: 'markdown', value: about } }),
      sortText: String(index).padStart(4, '0'),
      textEdit: {
        range: open.spanOut({ line, start, end }),
        newText: isSnippet ? snippetOf(text) : text,
      },
      ...(isSnippet ? { insertTextFormat: InsertTextFormat.Snippet } : {}),
    }
  }
}

/** Every feed becomes a place to type in, the same one wherever it stands: one change changes them all. */
function snippetOf(text: string): string {
  const places = new Map<string, number>()
  return text.replace(/[\\$}]/g, '\\$&').replace(/\b([Ff])([\d.]+)/g, (_, letter: string, value: string) => {
    const place = places.get(value)
    if (place !== undefined) return `${letter}$${place}`
    places.set(value, places.size + 1)
    return `${letter}\${${places.size}:${value}}`
  })
}

function newFindings(before: Checked, after: Checked): string[] {
  const count = (of: Checked) => {
    const counts = new Map<string, number>()
    for (const { code } of of.findings) counts.set(code, (counts.get(code) ?? 0) + 1)
    return counts
  }
  const known = count(before)
  const raised = [...count(after)].filter(([code, many]) => many > (known.get(code) ?? 0)).map(([code]) => code)
  return after.findings.filter(({ code }) => raised.includes(code)).map(({ code, message }) => `${code}: ${message}`)
}

const itemKinds: Record<ProgramCompletion['kind'], CompletionItemKind> = {
  code: CompletionItemKind.Keyword,
  word: CompletionItemKind.Property,
  bit: CompletionItemKind.Class,
  rate: CompletionItemKind.Unit,
  parameter: CompletionItemKind.Variable,
  subprogram: CompletionItemKind.Function,
  function: CompletionItemKind.Function,
  flow: CompletionItemKind.Keyword,
  operation: CompletionItemKind.Snippet,
}
