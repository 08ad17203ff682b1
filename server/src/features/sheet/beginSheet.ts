import { fileName, folderOf, normalUri, within } from '../../job/uris.ts'
import type { Workspace } from '../../job/workspace.ts'
import { readProgram } from '../../machine/readProgram.ts'
import type { BeginSheetParams, BeginSheetResult } from '../editorMessages.ts'
import { sheetName } from '../offers.ts'
import { makeSheet, type NamedProgram } from './makeSheet.ts'
import { PROGRAM_ENDING } from './names.ts'

/** Larger than any program written to be edited by hand; a draft of a sheet is not worth reading it. */
const LARGEST_BYTES = 20e6

/** The sheet with which one program, or the programs of a folder, may begin; null where nothing of them cuts. */
export async function beginSheet(workspace: Workspace, params: BeginSheetParams): Promise<BeginSheetResult | null> {
  if ('program' in params) {
    const uri = normalUri(params.program)
    return drafted(workspace, folderOf(uri), [fileName(uri)], fileName(uri))
  }
  const folder = normalUri(params.folder)
  const names = (await workspace.list(folder)).filter(name => PROGRAM_ENDING.test(name))
  return drafted(workspace, folder, names, `${fileName(folder) || 'job'}.nc`)
}

/** @param after the name that the sheet's is made from */
async function drafted(
  workspace: Workspace,
  folder: string,
  names: readonly string[],
  after: string,
): Promise<BeginSheetResult | null> {
  const programs: NamedProgram[] = []
  for (const name of names) {
    const bytes = await workspace.read(within(folder, name))
    // No text holds a zero byte.
    if (!bytes || bytes.length > LARGEST_BYTES || bytes.subarray(0, 8192).includes(0)) continue
    programs.push({ name, program: readProgram(bytes) })
  }
  const text = makeSheet(after.replace(/\.[^.]*$/, ''), programs)
  return text === undefined ? null : { uri: within(folder, sheetName(after)), text }
}
