import { buffer } from 'node:stream/consumers'
import type { Workspace } from '../../job/workspace.ts'

/** What a text from standard input is called where no name is given: it belongs to no sheet then. */
export const UNNAMED = 'standard-input.nc'

/** A workspace in which what comes through standard input stands in the place of the file `uri`. */
export async function withStandardInput(below: Workspace, uri: string): Promise<Workspace> {
  const bytes = await buffer(process.stdin)
  return {
    read: async asked => (asked === uri ? bytes : below.read(asked)),
    list: folder => below.list(folder),
  }
}
