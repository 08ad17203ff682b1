import type { CodeLens, Hover, InlayHint, Position, Range } from 'vscode-languageserver'
import { hoverAt } from '../features/hover.ts'
import { HINT_KINDS, type HintKind, hintsOf } from '../features/reading/hints.ts'
import { type KnownProgram, knownOf } from '../features/reading/known.ts'
import { programLenses } from '../features/reading/lenses.ts'
import { normalUri } from '../job/uris.ts'
import type { Checker } from './checker.ts'
import type { Client } from './client.ts'
import type { OpenProgram } from './openProgram.ts'
import { fieldsOf } from './settings.ts'
import { settled } from './settled.ts'

/** What a person may switch of what is told of a program. */
export interface ReadingSettings {
  readonly draws: boolean
  readonly hints: ReadonlySet<HintKind>
  readonly lenses: boolean
}

/** The lens over an operation says its time already. */
const USUAL_HINTS: Readonly<Record<HintKind, boolean>> = { left: true, chipLoad: true, arcRadius: true, time: false }

/** Settings as a client sends them; what does not fit counts as not set. */
function readingSettingsOf(written: unknown): ReadingSettings {
  const { hover, hints, lenses } = fieldsOf(written)
  const own = fieldsOf(hints)
  const wanted = (kind: HintKind) => (typeof own[kind] === 'boolean' ? own[kind] : USUAL_HINTS[kind])
  return {
    draws: fieldsOf(hover).section !== false,
    hints: new Set(HINT_KINDS.filter(wanted)),
    lenses: lenses !== false,
  }
}

/** How long hints wait for a check that is under way, ms: then what the text alone tells has to do. */
const PATIENCE = 2000

/** What an editor is told of the words of a program: from the last check, never by a check of its own. */
export class Reading {
  readonly #client: Client
  readonly #checker: Checker
  readonly #settings: (uri: string) => Promise<unknown>

  /** @param settings what is written in the editor under our name, for a file */
  constructor(client: Client, checker: Checker, settings: (uri: string) => Promise<unknown>) {
    this.#client = client
    this.#checker = checker
    this.#settings = settings
  }

  /** At once, whatever is being worked out: without the wood where that is not known yet. */
  async hover(open: OpenProgram, position: Position): Promise<Hover | null> {
    const uri = normalUri(open.uri)
    const { draws } = readingSettingsOf(await this.#settings(uri))
    const known = this.#known(uri)
    const { text, program } = open
    const question = { text, program, known, draws: draws && this.#client.readsMarkdown }
    const found = hoverAt(question, open.positionIn(position))
    if (!found) return null
    const value = this.#client.readsMarkdown ? found.markdown : plain(found.markdown)
    return {
      contents: { kind: this.#client.readsMarkdown ? 'markdown' : 'plaintext', value },
      range: open.spanOut(found.span),
    }
  }

  async hints(open: OpenProgram, range: Range, signal: AbortSignal): Promise<InlayHint[]> {
    const uri = normalUri(open.uri)
    const { hints } = readingSettingsOf(await this.#settings(uri))
    if (hints.size === 0) return []
    await settled(this.#checker, uri, signal, PATIENCE)
    const found = hintsOf(open.program, this.#known(uri), hints, range.start.line, range.end.line)
    return found.map(({ line, character, label, about }) => ({
      position: open.rangeOut({ start: { line, character }, end: { line, character } }).start,
      label,
      tooltip: about,
      paddingLeft: true,
    }))
  }

  async lenses(open: OpenProgram, signal: AbortSignal): Promise<CodeLens[]> {
    const uri = normalUri(open.uri)
    if (!readingSettingsOf(await this.#settings(uri)).lenses) return []
    await settled(this.#checker, uri, signal, PATIENCE)
    const { previews } = this.#client.options
    return programLenses(open.program, this.#known(uri)).flatMap(({ line, title, showFrom }): CodeLens[] => {
      const at = { line, character: 0 }
      const range = { start: at, end: at }
      // A lens must carry a command to be shown at once; one without a name does nothing when chosen.
      if (showFrom === undefined) return [{ range, command: { title, command: '' } }]
      return previews ? [{ range, command: { title, command: 'treen.showFrom', arguments: [open.uri, showFrom] } }] : []
    })
  }

  #known(uri: string): KnownProgram {
    return knownOf(this.#checker.knownChecksOf(uri) ?? [], uri)
  }
}

/** Markdown of ours as a client shows it that knows none. */
function plain(markdown: string): string {
  return markdown
    .replace(/!\[[^\]]*\]\([^)]*\)/g, '')
    .replace(/\*\*|`/g, '')
    .replace(/\\([\\`*_{}[\]<>()#+.!|~&-])/g, '$1')
    .trim()
}
