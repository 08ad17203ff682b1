import { readSheetText } from './reading/sheetText.ts'
import { folderOf, normalUri, resolveBeside, within } from './uris.ts'
import type { Workspace } from './workspace.ts'

/** What the name of every job sheet ends with. */
export const SHEET_ENDING = '.jobsheet.json'

/** More folders above a program than any real path has: a loop in a file system must end. */
const MOST_FOLDERS = 64

/**
 * The sheets that name a program, nearest folder first: in its own folder and its parents, up to the root that it lies
 * under (outside all roots: its own folder alone). A sheet counts even where it has faults.
 *
 * @param roots URIs of the folders above which no sheet is looked for
 */
export async function findSheets(
  workspace: Workspace,
  programUri: string,
  roots: readonly string[],
): Promise<string[]> {
  const program = normalUri(programUri)
  const found: string[] = []
  for (const folder of foldersUp(program, roots)) {
    for (const name of [...(await workspace.list(folder))].sort()) {
      if (!name.endsWith(SHEET_ENDING)) continue
      const sheet = within(folder, name)
      const bytes = await workspace.read(sheet)
      if (bytes && programsNamed(sheet, new TextDecoder().decode(bytes)).includes(program)) found.push(sheet)
    }
  }
  return found
}

/** URIs of the programs that a sheet's text names, each once, however much else is wrong with it. */
export function programsNamed(sheetUri: string, text: string): string[] {
  const { value } = readSheetText(text)
  const setups = isObject(value) && Array.isArray(value.setups) ? value.setups : []
  const names = setups.flatMap(setup => (isObject(setup) && typeof setup.program === 'string' ? [setup.program] : []))
  return [...new Set(names.flatMap(name => resolveBeside(sheetUri, name) ?? []))]
}

const isObject = (value: unknown): value is Record<string, unknown> => typeof value === 'object' && value !== null

function foldersUp(program: string, roots: readonly string[]): string[] {
  const tops = roots.map(root => normalUri(root).replace(/\/+$/, ''))
  const folders: string[] = []
  let folder = folderOf(program)
  while (folders.length < MOST_FOLDERS) {
    folders.push(folder)
    const bare = folder.replace(/\/+$/, '')
    if (tops.includes(bare) || !tops.some(top => bare.startsWith(`${top}/`))) break
    folder = folderOf(bare)
  }
  return folders
}
