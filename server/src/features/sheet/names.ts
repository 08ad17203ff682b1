import { MATERIALS } from '../../job/reading/materials.ts'
import { readSheetText } from '../../job/reading/sheetText.ts'
import type { SheetPath } from '../../job/sheetDocument.ts'
import { folderOf } from '../../job/uris.ts'
import type { Workspace } from '../../job/workspace.ts'

/** A name that may stand at a place of the sheet, and what it is the name of. */
export interface SheetName {
  readonly name: string
  readonly about?: string
}

/** What the fields that hold a name hold the name of, by their path; `*` stands for any one step. */
const holders: readonly { readonly path: SheetPath; readonly of: Kind }[] = [
  { path: ['setups', '*', 'blank'], of: 'blank' },
  { path: ['setups', '*', 'bit'], of: 'bit' },
  { path: ['setups', '*', 'program'], of: 'program' },
  { path: ['setups', '*', 'copies', '*'], of: 'copy' },
  { path: ['setups', '*', 'insert', 'plug'], of: 'plug' },
  { path: ['setups', '*', 'insert', 'into'], of: 'pocket' },
  { path: ['keepOut', '*', 'setup'], of: 'set-up' },
  { path: ['blanks', '*', 'material'], of: 'material' },
]

type Kind = 'blank' | 'bit' | 'program' | 'copy' | 'plug' | 'pocket' | 'set-up' | 'material'

/** Endings of programs. A folder holds pictures and notes as well. */
export const PROGRAM_ENDING = /\.(nc|ngc|gcode|tap|cnc)$/i

/** Names of the programs beside a sheet, in the order of the alphabet. */
export async function programsBeside(workspace: Workspace, sheetUri: string): Promise<string[]> {
  const names = await workspace.list(folderOf(sheetUri))
  return names.filter(name => PROGRAM_ENDING.test(name)).sort()
}

/**
 * The names that can stand in the field at a path, as the text now has them; undefined where the field holds no name.
 * The text may be half typed.
 */
export async function namesFor(
  workspace: Workspace,
  sheetUri: string,
  text: string,
  path: SheetPath,
): Promise<readonly SheetName[] | undefined> {
  const kind = holders.find(holder => fits(holder.path, path))?.of
  if (!kind) return undefined
  if (kind === 'program') return (await programsBeside(workspace, sheetUri)).map(name => ({ name }))
  if (kind === 'material') return MATERIALS.map(({ name, family }) => ({ name, about: family }))
  const { value } = readSheetText(text)
  const own = path[0] === 'setups' ? Number(path[1]) : undefined
  return namesIn(fieldsOf(value), kind, own)
}

function fits(pattern: SheetPath, path: SheetPath): boolean {
  return pattern.length === path.length && pattern.every((step, i) => step === '*' || step === path[i])
}

function namesIn(sheet: Fields, kind: Exclude<Kind, 'program' | 'material'>, own: number | undefined): SheetName[] {
  if (kind === 'bit') {
    return Object.entries(fieldsOf(sheet.bits)).map(([name, bit]) => ({ name, about: textOf(fieldsOf(bit).name) }))
  }
  const blanks = Object.entries(fieldsOf(sheet.blanks))
  if (kind === 'blank') return blanks.map(([name, blank]) => ({ name, about: textOf(fieldsOf(blank).material) }))
  if (kind === 'copy') {
    const copies = blanks.flatMap(([blank, written]) =>
      Object.keys(fieldsOf(fieldsOf(written).copies)).map(name => ({ name, about: `a copy of ${blank}` })),
    )
    return copies.filter(({ name }, i) => copies.findIndex(other => other.name === name) === i)
  }
  const setups = Array.isArray(sheet.setups) ? sheet.setups.map(fieldsOf) : []
  return setups.flatMap((setup, index) => {
    const name = textOf(setup.name)
    if (name === undefined || (kind !== 'set-up' && (textOf(setup.program) === undefined || index === own))) return []
    const makes = textOf(setup.makes)
    // A plug comes from a set-up that carves one; where none says so, any that runs a program may be meant.
    if (kind !== 'set-up' && makes !== kind && setups.some(other => other.makes === kind)) return []
    return [{ name, about: makes ?? textOf(setup.program) }]
  })
}

type Fields = Readonly<Record<string, unknown>>

function fieldsOf(value: unknown): Fields {
  return typeof value === 'object' && value !== null && !Array.isArray(value) ? (value as Fields) : {}
}

const textOf = (value: unknown) => (typeof value === 'string' && value !== '' ? value : undefined)
