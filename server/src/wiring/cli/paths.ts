import { stat } from 'node:fs/promises'
import { join, relative, resolve, sep } from 'node:path'
import { fileURLToPath, pathToFileURL } from 'node:url'
import { glob, isDynamicPattern } from 'tinyglobby'
import { UsageError } from './usageError.ts'

/** Folders that hold other people's files or none of interest. */
const ignore = ['**/node_modules/**', '**/dist/**']

const checkable = '**/*.{nc,ngc,gcode,tap,cnc,jobsheet.json}'

/**
 * The URIs of the programs and sheets that the paths name; a folder stands for all that it holds, at any depth, and a
 * pattern such as `trays/*.nc` for all that it fits, where the shell has left it as it is.
 * @throws UsageError naming the path that is not there, or what holds nothing to check
 */
export async function urisOf(paths: readonly string[]): Promise<string[]> {
  const uris: string[] = []
  for (const path of paths) uris.push(...(await filesOf(path)).map(uriOf))
  return [...new Set(uris)]
}

async function filesOf(path: string): Promise<string[]> {
  const kind = await stat(path).catch(() => undefined)
  if (kind && !kind.isDirectory()) return [path]
  if (!kind && !isDynamicPattern(path)) throw new UsageError(`${path}: there is no such file or folder`)
  const pattern = kind ? checkable : path.split(sep).join('/')
  const cwd = kind ? path : '.'
  const found = await glob(pattern, { cwd, ignore, caseSensitiveMatch: false, expandDirectories: false })
  if (found.length > 0) return found.sort().map(file => join(cwd, file))
  throw new UsageError(
    kind ? `${path}: this folder holds no program and no job sheet` : `${path}: no file fits this pattern`,
  )
}

/** The URI of a path of the working folder. */
export function uriOf(path: string): string {
  return pathToFileURL(resolve(path)).toString()
}

/** A file's path relative to the working folder, with forward slashes, as the reports name it. */
export function nameOf(uri: string): string {
  return relative(process.cwd(), fileURLToPath(uri)).split(sep).join('/')
}
