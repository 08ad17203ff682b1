import { type LinePart, partsOf } from '../../syntax/lineParts.ts'
import type { ProgramText } from '../../syntax/programText.ts'
import type { Position, TextSpan } from '../../syntax/source.ts'
import { Token } from '../../syntax/tokens.ts'

/** Something that a program names in one place and speaks of in others. */
export interface Named {
  readonly kind: 'parameter' | 'subprogram' | 'lineNumber'
  /** `5`, `<depth>`; of a line number its number. */
  readonly name: string
  /** Of a parameter that belongs to a subprogram alone: the line of its SUB; -1 otherwise. */
  readonly scope: number
}

/** One place where it stands. */
export interface Use extends Named {
  readonly span: TextSpan
  /** `set`: a parameter gets a value; `definition`: a subprogram or a block of an O word begins, a line has its number. */
  readonly role: 'definition' | 'set' | 'read'
  /** Of an O word: what it says, as `LinePart.says`. */
  readonly says?: string
}

/** All parameters and labels of a text, in its order. */
export interface Uses {
  readonly uses: readonly Use[]
  /** The number of a parameter is worked out somewhere: which one is meant cannot be told from the text. */
  readonly computedParameters: boolean
  /** The same of a subprogram. */
  readonly computedLabels: boolean
}

/** What opens a block that an O word closes; an O number alone begins what M98 calls. */
const OPENING: ReadonlySet<string> = new Set(['sub', '', 'if', 'while', 'do', 'repeat'])

/** Parameters up to this number belong to a call alone (flow.ts), as do names without an underscore before them. */
const LAST_LOCAL = 30

/** Whether a call of a subprogram has its own parameter of this name. */
export function isLocal(name: string): boolean {
  return name.startsWith('<') ? !name.startsWith('<_') : Number(name) <= LAST_LOCAL
}

/** All parameters and labels, by one walk through the text; only lines that may have one are looked at closely. */
export function allUses(text: ProgramText): Uses {
  const uses: Use[] = []
  const opened = new Set<string>()
  let computedParameters = false
  let computedLabels = false
  let scope = -1
  for (const line of linesWithNames(text)) {
    let after = scope
    for (const part of partsOf(text, line)) {
      const { kind, name, span, says } = part
      if (kind === 'parameter') {
        if (name === undefined) computedParameters = true
        else if (name !== '') {
          const role = part.set ? 'set' : 'read'
          uses.push({ kind, name, scope: isLocal(name) ? scope : -1, span, role })
        }
      } else if (kind === 'label') {
        if (says === 'sub') after = line
        if (says === 'endsub') after = -1
        if (name === undefined) computedLabels = true
        else if (name !== '') {
          // A DO is closed by the WHILE of its label.
          const closes = says === 'while' && opened.delete(name)
          if (says === 'do') opened.add(name)
          const role = OPENING.has(says ?? '') && !closes ? 'definition' : 'read'
          uses.push({ kind: 'subprogram', name, scope: -1, span, role, says })
        }
      }
    }
    scope = after
  }
  return { uses, computedParameters, computedLabels }
}

/** Lines whose tokens may hold a parameter or a label. */
function linesWithNames(text: ProgramText): number[] {
  const lines: number[] = []
  text.walk(0, text.lineCount - 1, (line, i, { kind, value }) => {
    const what = kind[i]
    const holds =
      what === Token.expression ||
      what === Token.setting ||
      what === Token.flow ||
      what === Token.badExpression ||
      (what === 77 && value[i] === 98)
    if (holds && lines[lines.length - 1] !== line) lines.push(line)
  })
  return lines
}

/** Every line with this number. */
function lineNumbers(text: ProgramText, number: number): Use[] {
  const uses: Use[] = []
  text.walk(0, text.lineCount - 1, (line, i, { kind, value, start, end }) => {
    if (kind[i] !== 78 || value[i] !== number) return
    const span = { line, start: text.column(line, start[i]), end: text.column(line, end[i]) }
    uses.push({ kind: 'lineNumber', name: String(number), scope: -1, span, role: 'definition' })
  })
  return uses
}

/** The part of a line under the caret; of two that meet there the one that has a name, or the one that begins. */
export function partAt(text: ProgramText, { line, character }: Position): LinePart | undefined {
  return line >= 0 && line < text.lineCount ? partUnder(partsOf(text, line), character) : undefined
}

/** The same among the parts of a line in hand. */
export function partUnder(parts: readonly LinePart[], character: number): LinePart | undefined {
  const touched = parts.filter(({ span: { start, end } }) => start <= character && character <= end && start < end)
  return touched.findLast(part => part.name || part.kind === 'lineNumber') ?? touched.at(-1)
}

/** What is named under the caret, with every place where the same is meant. */
export interface Found {
  /** The one under the caret. */
  readonly here: Use
  /** All, that one included, in the order of the text. */
  readonly all: readonly Use[]
  readonly text: Uses
}

/** undefined where nothing is named under the caret. */
export function findUses(text: ProgramText, at: Position): Found | undefined {
  const part = partAt(text, at)
  if (!part) return undefined
  if (part.kind === 'lineNumber') {
    const all = lineNumbers(text, part.value ?? Number.NaN)
    const here = all.find(({ span }) => sameSpan(span, part.span))
    return here && { here, all, text: { uses: all, computedParameters: false, computedLabels: false } }
  }
  if ((part.kind !== 'parameter' && part.kind !== 'label') || !part.name) return undefined
  const known = allUses(text)
  const here = known.uses.find(({ span }) => sameSpan(span, part.span))
  if (!here) return undefined
  return { here, all: known.uses.filter(use => sameThing(use, here)), text: known }
}

/** Whether two uses mean the same parameter, subprogram or line number. */
export function sameThing(a: Named, b: Named): boolean {
  return a.kind === b.kind && a.name === b.name && a.scope === b.scope
}

function sameSpan(a: TextSpan, b: TextSpan): boolean {
  return a.line === b.line && a.start === b.start && a.end === b.end
}
