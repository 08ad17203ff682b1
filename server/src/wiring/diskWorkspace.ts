import { readdir, readFile } from 'node:fs/promises'
import { fileURLToPath } from 'node:url'
import type { Workspace } from '../job/workspace.ts'

/** The disk, by `file:` URIs. What cannot be read is undefined, for whatever reason; the caller says what that means. */
export const diskWorkspace: Workspace = {
  async read(uri) {
    try {
      return await readFile(fileURLToPath(uri))
    } catch {
      return undefined
    }
  },
  async list(folder) {
    try {
      const entries = await readdir(fileURLToPath(folder), { withFileTypes: true })
      return entries.filter(entry => entry.isFile()).map(entry => entry.name)
    } catch {
      return []
    }
  },
}
