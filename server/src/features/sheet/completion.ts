import { findNodeAtLocation, getLocation } from 'jsonc-parser'
import { choicesAt, knownFields, meaningAt, schemasAt } from '../../job/reading/schemaWalk.ts'
import { isTooDeep, positionsOf } from '../../job/reading/sheetText.ts'
import { sheetSchema } from '../../job/schema.ts'
import type { SheetPath } from '../../job/sheetDocument.ts'
import type { Workspace } from '../../job/workspace.ts'
import type { Position, Range } from '../../syntax/source.ts'
import { namesFor } from './names.ts'
import { offsetOf, treeOf } from './place.ts'

/** Something that may be written at a place of the sheet. */
export interface Completion {
  readonly kind: 'field' | 'choice' | 'name' | 'program'
  readonly label: string
  /** Half a line: what it is. */
  readonly detail?: string
  /** What it means. */
  readonly about?: string
  readonly range: Range
  readonly text: string
}

export interface CompletionWishes {
  /** The editor knows the JSON Schema of a sheet: fields and choices come from it, and only names are wanted of us. */
  readonly namesOnly: boolean
}

/**
 * What may stand at a position of a sheet's text: fields that are not written yet, the choices of a field, and names
 * that only the job knows: of blanks, bits, copies and set-ups, of materials, of the programs beside the sheet.
 */
export async function completionsAt(
  workspace: Workspace,
  sheet: { readonly uri: string; readonly text: string },
  at: Position,
  wishes: CompletionWishes,
): Promise<Completion[]> {
  const { uri, text } = sheet
  if (isTooDeep(text)) return []
  const offset = offsetOf(text, at)
  const location = getLocation(text, offset)
  const { path, isAtPropertyKey } = location
  const range = rangeToReplace(text, offset, location.previousNode)
  if (!range) return []
  if (isAtPropertyKey) return wishes.namesOnly ? [] : fieldsAt(text, offset, path, range)
  const names = await namesFor(workspace, uri, text, path)
  if (names) {
    const kind = path[path.length - 1] === 'program' ? 'program' : 'name'
    return names.map(({ name, about }) => ({ kind, label: name, detail: about, range, text: JSON.stringify(name) }))
  }
  if (wishes.namesOnly) return []
  return choicesAt(sheetSchema, path).map(choice => {
    return { kind: 'choice', label: String(choice), range, text: JSON.stringify(choice), about: aboutOf(path) }
  })
}

type Node = ReturnType<typeof getLocation>['previousNode']

/** The literal that is being typed, whole; else the place itself. undefined inside a comment. */
function rangeToReplace(text: string, offset: number, node: Node): Range | undefined {
  const place = positionsOf(text)
  const line = text.slice(text.lastIndexOf('\n', offset - 1) + 1, offset)
  const within = node && node.offset <= offset && offset <= node.offset + node.length ? node : undefined
  if (!within && /^[^"]*\/\//.test(line)) return undefined
  if (within?.type === 'string') {
    // A string that is not closed yet reaches to the end of its line for the reader, not for the person.
    const written = text.slice(within.offset, within.offset + within.length)
    const closed = written.length > 1 && written.endsWith('"')
    return { start: place(within.offset), end: place(closed ? within.offset + within.length : offset) }
  }
  if (within) return { start: place(within.offset), end: place(within.offset + within.length) }
  return { start: place(offset), end: place(offset) }
}

function fieldsAt(text: string, offset: number, path: SheetPath, range: Range): Completion[] {
  const owner = path.slice(0, -1)
  const written = namesBeside(text, offset, owner)
  // A colon that is there already is not written again.
  const rest = text.slice(offset).match(/^[^"\r\n]*(?:"\s*)?:/)
  return knownFields(sheetSchema, owner)
    .filter(field => field !== '$schema' && !written.has(field))
    .map(field => {
      const value = rest ? '' : `: ${emptyValue([...owner, field])}`
      return {
        kind: 'field',
        label: field,
        range,
        text: `${JSON.stringify(field)}${value}`,
        about: aboutOf([...owner, field]),
      }
    })
}

/** Fields of the same object that are written elsewhere. */
function namesBeside(text: string, offset: number, owner: SheetPath): Set<string> {
  const tree = treeOf(text)
  const object = tree && findNodeAtLocation(tree, [...owner])
  const others = (object?.children ?? []).flatMap(property => property.children?.[0] ?? [])
  return new Set(
    others.filter(name => offset < name.offset || name.offset + name.length < offset).map(name => String(name.value)),
  )
}

/** What a field's value begins with. */
function emptyValue(path: SheetPath): string {
  const kinds = schemasAt(sheetSchema, path).map(schema => schema.def.type)
  if (kinds.some(kind => kind === 'array' || kind === 'tuple')) return '[]'
  if (kinds.every(kind => kind === 'object' || kind === 'record') && kinds.length > 0) return '{}'
  return kinds.includes('string') || kinds.includes('enum') ? '""' : ''
}

const aboutOf = (path: SheetPath) => meaningAt(sheetSchema, path)
