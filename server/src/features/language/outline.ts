import type { Program } from '../../machine/program.ts'
import { height } from '../../rules/common/wording.ts'
import { spanOfWords } from '../../rules/common/words.ts'
import type { ProgramText } from '../../syntax/programText.ts'
import type { Range, TextSpan } from '../../syntax/source.ts'
import { rangeOf } from '../../syntax/source.ts'
import { blocksOf } from './blocks.ts'
import { lastWritten } from './folding.ts'
import { levelsOf } from './levels.ts'
import { allUses } from './uses.ts'

/** An entry of the outline, with what lies within it. */
export interface Entry {
  readonly kind: 'operation' | 'level' | 'tool' | 'subprogram' | 'parameter'
  readonly name: string
  /** What else to say on the line; '' for nothing. */
  readonly detail: string
  readonly range: Range
  /** The words to go to. */
  readonly at: TextSpan
  readonly children: readonly Entry[]
}

interface OpenEntry extends Entry {
  readonly children: OpenEntry[]
}

/** Longest value of a parameter that is shown beside its name. */
const LONGEST_DETAIL = 40

/** The outline of a program: operations and their levels, changes of bits, subprograms, parameters. */
export function outlineOf(text: ProgramText, program: Program): Entry[] {
  const entries = [...operations(text, program), ...subprograms(text), ...tools(text, program), ...parameters(text)]
  return nested(entries)
}

function entry(kind: Entry['kind'], name: string, detail: string, range: Range, at: TextSpan): OpenEntry {
  return { kind, name, detail, range, at, children: [] }
}

/** From the start of a line to the end of a later one. */
function rangeOfLines(text: ProgramText, first: number, last: number): Range {
  const line = lastWritten(text, first, last)
  return { start: { line: first, character: 0 }, end: { line, character: text.column(line, text.stop(line)) } }
}

function operations(text: ProgramText, program: Program): OpenEntry[] {
  const headings = new Map(program.comments.map(comment => [comment.span.line, comment.span]))
  return [
    ...program.operations.map(({ title, firstLine, lastLine }) => {
      const at = headings.get(firstLine) ?? { line: firstLine, start: 0, end: 0 }
      return entry('operation', title, '', rangeOfLines(text, firstLine, lastLine), at)
    }),
    ...levelsOf(program).map(({ z, firstLine, lastLine }) =>
      entry('level', height(z), '', rangeOfLines(text, firstLine, lastLine), spanOfWords(program, firstLine)),
    ),
  ]
}

function subprograms(text: ProgramText): OpenEntry[] {
  return blocksOf(text).flatMap(({ what, label, firstLine, lastLine }) => {
    if (what !== 'sub' && what !== 'label') return []
    const name = text.line(label.line).slice(label.start, label.end)
    return [entry('subprogram', `O${name}`, '', rangeOfLines(text, firstLine, lastLine), label)]
  })
}

/** T words, but for those that choose what was chosen before. */
function tools(text: ProgramText, program: Program): OpenEntry[] {
  const declared = new Map<number, string>()
  for (const { text: comment } of program.comments) {
    const bit = /^bit\s+(\d{1,5})\s*:\s*(.*)$/is.exec(comment)
    if (bit) declared.set(Number(bit[1]), bit[2])
  }
  const entries: OpenEntry[] = []
  let before = Number.NaN
  text.walk(0, text.lineCount - 1, (line, i, { kind, value, start, end }) => {
    if (kind[i] !== 84 || value[i] === before) return
    before = value[i]
    const at = { line, start: text.column(line, start[i]), end: text.column(line, end[i]) }
    entries.push(entry('tool', `T${before}`, declared.get(before) ?? '', rangeOf(at), at))
  })
  return entries
}

/** Where each parameter is first set, with what it is set to. */
function parameters(text: ProgramText): OpenEntry[] {
  const known = new Set<string>()
  return allUses(text).uses.flatMap(({ kind, role, name, scope, span }) => {
    const key = `${scope} ${name}`
    if (kind !== 'parameter' || role !== 'set' || known.has(key)) return []
    known.add(key)
    const line = text.line(span.line)
    const value = /^\s*=\s*([^(;]*)/.exec(line.slice(span.end, span.end + 2 * LONGEST_DETAIL))?.[1].trim() ?? ''
    const detail = value.length > LONGEST_DETAIL ? `${value.slice(0, LONGEST_DETAIL)}…` : value
    return [entry('parameter', line.slice(span.start, span.end), detail, rangeOf(span), span)]
  })
}

/** Puts each entry into the smallest that holds it. */
function nested(entries: OpenEntry[]): Entry[] {
  entries.sort((a, b) => compare(a.range.start, b.range.start) || compare(b.range.end, a.range.end))
  const roots: OpenEntry[] = []
  const open: OpenEntry[] = []
  for (const each of entries) {
    while (open.length > 0 && compare(open[open.length - 1].range.end, each.range.end) < 0) open.pop()
    const parent = open.at(-1)
    ;(parent ? parent.children : roots).push(each)
    open.push(each)
  }
  return roots
}

function compare(a: Range['start'], b: Range['start']): number {
  return a.line - b.line || a.character - b.character
}
