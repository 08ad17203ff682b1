import { findNodeAtLocation } from 'jsonc-parser'
import { positionsOf } from '../../job/reading/sheetText.ts'
import { resolveBeside } from '../../job/uris.ts'
import type { Range } from '../../syntax/source.ts'
import { treeOf } from './place.ts'

export interface SheetLink {
  /** Inside the quotes. */
  readonly range: Range
  readonly target: string
}

/** The names of programs in a sheet's text, each a way to its program, however much else is wrong with the text. */
export function programLinks(sheetUri: string, text: string): SheetLink[] {
  const tree = treeOf(text)
  const setups = tree && findNodeAtLocation(tree, ['setups'])
  if (setups?.type !== 'array') return []
  const place = positionsOf(text)
  return (setups.children ?? []).flatMap(setup => {
    const program = findNodeAtLocation(setup, ['program'])
    if (program?.type !== 'string' || program.length < 3) return []
    const target = resolveBeside(sheetUri, String(program.value))
    if (target === undefined) return []
    const range = { start: place(program.offset + 1), end: place(program.offset + program.length - 1) }
    return [{ range, target }]
  })
}
