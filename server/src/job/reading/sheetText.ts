import { type Node, type ParseError, parseTree, printParseErrorCode } from 'jsonc-parser'
import type { Position, Range } from '../../syntax/source.ts'
import type { SheetPath, SheetProblem } from '../sheetDocument.ts'

/** A sheet's text as JSON with comments, read as far as it goes; never throws. */
export interface SheetText {
  /** The plain value; undefined for an empty text. */
  readonly value: unknown
  /** What breaks the JSON itself, and fields written twice. */
  readonly problems: readonly SheetProblem[]
  rangeOf(path: SheetPath): Range
  nameRangeOf(path: SheetPath): Range
}

/** Deeper than any sheet can be; a text of nothing but brackets must not exhaust the stack. */
const DEEPEST = 64

const SPOKEN: Record<string, string> = {
  InvalidSymbol: 'This word means nothing in a sheet: put text in "double quotes"; numbers stand bare.',
  InvalidNumberFormat: 'This is not a number that a sheet can hold: write it like 12.5.',
  PropertyNameExpected: 'The name of a field is missing here: write "name": value.',
  ValueExpected: 'A value is missing here.',
  ColonExpected: 'A colon is missing between the name of the field and its value.',
  CommaExpected: 'A comma is missing before this.',
  CloseBraceExpected: 'A closing brace } is missing.',
  CloseBracketExpected: 'A closing bracket ] is missing.',
  EndOfFileExpected: 'The sheet ends before this; what follows is not read.',
  UnexpectedEndOfComment: 'This comment is not closed: end it with */.',
  UnexpectedEndOfString: 'This text is not closed: a double quote is missing at its end.',
  UnexpectedEndOfNumber: 'This number stops in the middle.',
  InvalidCharacter: 'A character that cannot stand in a sheet.',
}

/** Reads JSON with comments and trailing commas, and keeps where everything stands. */
export function readSheetText(text: string): SheetText {
  const place = positionsOf(text)
  const range = (offset: number, length: number): Range => ({ start: place(offset), end: place(offset + length) })
  if (isTooDeep(text)) {
    const problem = {
      code: 'sheet/bad-json',
      range: range(0, 0),
      message: 'This sheet nests far deeper than a job sheet can.',
    }
    return { value: undefined, problems: [problem], rangeOf: () => range(0, 0), nameRangeOf: () => range(0, 0) }
  }
  const errors: ParseError[] = []
  const root = parseTree(text, errors, { allowTrailingComma: true, disallowComments: false })
  const problems: SheetProblem[] = errors.slice(0, 20).map(error => ({
    code: 'sheet/bad-json',
    range: range(error.offset, error.length),
    message: SPOKEN[printParseErrorCode(error.error)] ?? 'The sheet cannot be read here.',
  }))
  const onTwice = (node: Node, name: string) =>
    problems.push({
      code: 'sheet/duplicate-field',
      range: range(node.offset, node.length),
      message: `"${name}" is written twice here; the last one counts. Remove one of them.`,
    })
  const onForbidden = (node: Node) =>
    problems.push({
      code: 'sheet/unknown-field',
      range: range(node.offset, node.length),
      message: 'A job sheet has no field or name like this; it is passed over.',
    })
  const value = root ? plainValue(root, onTwice, onForbidden) : undefined
  return {
    value,
    problems,
    rangeOf: path => rangeAt(root, path, range, false),
    nameRangeOf: path => rangeAt(root, path, range, true),
  }
}

/** Plain value of a node. Names that would reach an object's prototype are reported and left out. */
function plainValue(
  node: Node,
  onTwice: (node: Node, name: string) => void,
  onForbidden: (node: Node) => void,
): unknown {
  if (node.type === 'array') return (node.children ?? []).map(child => plainValue(child, onTwice, onForbidden))
  if (node.type !== 'object') return node.value
  const value: Record<string, unknown> = {}
  for (const property of node.children ?? []) {
    const [name, content] = property.children ?? []
    if (!name || typeof name.value !== 'string') continue
    if (['__proto__', 'constructor', 'prototype'].includes(name.value)) {
      onForbidden(name)
      continue
    }
    if (Object.hasOwn(value, name.value)) onTwice(name, name.value)
    if (content) value[name.value] = plainValue(content, onTwice, onForbidden)
  }
  return value
}

function rangeAt(
  root: Node | undefined,
  path: SheetPath,
  range: (offset: number, length: number) => Range,
  wantName: boolean,
): Range {
  let node = root
  let name: Node | undefined
  for (const step of path) {
    const next = node && childOf(node, step)
    if (!next)
      return node === root || !node
        ? range(root?.offset ?? 0, root ? 1 : 0)
        : range((name ?? node).offset, (name ?? node).length)
    node = next.value ?? next.name
    name = next.name
  }
  if (!node) return range(0, 0)
  if (node === root) return range(root.offset, 1)
  const shown = wantName && name ? name : node
  return range(shown.offset, shown.length)
}

function childOf(node: Node, step: string | number): { name?: Node; value?: Node } | undefined {
  if (node.type === 'array') {
    const child = node.children?.[Number(step)]
    return child && { value: child }
  }
  if (node.type !== 'object') return undefined
  // The last of several wins, as it does for the value.
  const property = node.children?.findLast(child => child.children?.[0]?.value === String(step))
  return property && { name: property.children?.[0], value: property.children?.[1] }
}

/** Offset to line and column, both 0-based; every kind of line end. */
export function positionsOf(text: string): (offset: number) => Position {
  const starts = [0]
  for (let i = 0; i < text.length; i++) {
    const code = text.charCodeAt(i)
    if (code === 10 || (code === 13 && text.charCodeAt(i + 1) !== 10)) starts.push(i + 1)
  }
  return offset => {
    const at = Math.min(Math.max(offset, 0), text.length)
    let low = 0
    let high = starts.length - 1
    while (low < high) {
      const middle = (low + high + 1) >> 1
      if (starts[middle] <= at) low = middle
      else high = middle - 1
    }
    return { line: low, character: at - starts[low] }
  }
}

/** Counts brackets outside strings, roughly: enough to refuse a text made to exhaust the stack. */
export function isTooDeep(text: string): boolean {
  let depth = 0
  let inString = false
  for (let i = 0; i < text.length; i++) {
    const c = text[i]
    if (inString) {
      if (c === '\\') i++
      else if (c === '"' || c === '\n') inString = false
    } else if (c === '"') inString = true
    else if (c === '{' || c === '[') {
      if (++depth > DEEPEST) return true
    } else if (c === '}' || c === ']') depth--
  }
  return false
}
