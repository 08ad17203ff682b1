import { findNodeAtOffset, getNodePath, type Node, parseTree } from 'jsonc-parser'
import { isTooDeep, positionsOf } from '../../job/reading/sheetText.ts'
import type { SheetPath } from '../../job/sheetDocument.ts'
import type { Position, Range } from '../../syntax/source.ts'

/** Where something stands in a sheet's text: its path, and whether it is the name of a field. */
export interface SheetPlace {
  readonly path: SheetPath
  readonly atName: boolean
  readonly range: Range
}

/** The name, the value or the entry of a list that stands at a position; undefined between them. */
export function placeAt(text: string, at: Position): SheetPlace | undefined {
  const tree = treeOf(text)
  const offset = offsetOf(text, at)
  const node = tree && findNodeAtOffset(tree, offset)
  if (!node || node.type === 'object' || node.type === 'array' || node.type === 'property') return undefined
  const property = node.parent?.type === 'property' ? node.parent : undefined
  const atName = property?.children?.[0] === node
  const place = positionsOf(text)
  return {
    path: getNodePath(atName && property?.children?.[1] ? property.children[1] : node),
    atName,
    range: { start: place(node.offset), end: place(node.offset + node.length) },
  }
}

/** The tree of a sheet's text, as far as it can be read; undefined for an empty text, and for one made to exhaust us. */
export function treeOf(text: string): Node | undefined {
  return isTooDeep(text) ? undefined : parseTree(text, [], { allowTrailingComma: true, disallowComments: false })
}

/** How far into the text a position is; past the end of a line, the end of the line. */
export function offsetOf(text: string, { line, character }: Position): number {
  let start = 0
  for (let n = 0; n < line; n++) {
    const end = /\r\n|\r|\n/.exec(text.slice(start))
    if (!end) return text.length
    start += end.index + end[0].length
  }
  const rest = /[\r\n]/.exec(text.slice(start))
  return Math.min(start + character, rest ? start + rest.index : text.length)
}
