import { readdir, stat } from 'node:fs/promises'
import { join, relative, resolve, sep } from 'node:path'
import { fileURLToPath, pathToFileURL } from 'node:url'
import { UsageError } from './usageError.ts'

const programName = /\.(nc|ngc|gcode|tap|cnc)$/i
const sheetName = /\.jobsheet\.json$/i

/** Folders that hold other people's files or none of interest. */
const skipped = new Set(['node_modules', 'dist'])

/**
 * The URIs of the programs and sheets that the paths name; a folder stands for all that it holds, at any depth.
 * @throws UsageError naming the path that is not there, or the folder that holds nothing to check
 */
export async function urisOf(paths: readonly string[]): Promise<string[]> {
  const uris: string[] = []
  for (const path of paths) {
    const kind = await stat(path).catch(() => undefined)
    if (!kind) throw new UsageError(`${path}: there is no such file or folder`)
    if (!kind.isDirectory()) {
      uris.push(pathToFileURL(resolve(path)).toString())
      continue
    }
    const found = await filesBelow(path)
    if (found.length === 0) throw new UsageError(`${path}: this folder holds no program and no job sheet`)
    uris.push(...found.map(file => pathToFileURL(resolve(file)).toString()))
  }
  return [...new Set(uris)]
}

async function filesBelow(folder: string): Promise<string[]> {
  const found: string[] = []
  const entries = await readdir(folder, { withFileTypes: true }).catch(() => [])
  for (const entry of entries.sort((a, b) => a.name.localeCompare(b.name))) {
    const path = join(folder, entry.name)
    if (entry.isDirectory()) {
      if (!entry.name.startsWith('.') && !skipped.has(entry.name)) found.push(...(await filesBelow(path)))
    } else if (programName.test(entry.name) || sheetName.test(entry.name)) found.push(path)
  }
  return found
}

/** A file's path relative to the working folder, with forward slashes, as the reports name it. */
export function nameOf(uri: string): string {
  return relative(process.cwd(), fileURLToPath(uri)).split(sep).join('/')
}
