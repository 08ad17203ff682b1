import { URI, Utils } from 'vscode-uri'

/** The URI of a file that a sheet names, relative to the sheet; undefined where the name cannot be one. */
export function resolveBeside(sheetUri: string, name: string): string | undefined {
  try {
    const folder = Utils.dirname(URI.parse(sheetUri))
    // Sheets travel between systems: a backslash is taken for the separator it is meant to be.
    return Utils.resolvePath(folder, name.replaceAll('\\', '/')).toString()
  } catch {
    return undefined
  }
}

/** The same file under the spelling that all of this stage uses. */
export function normalUri(uri: string): string {
  try {
    return URI.parse(uri).toString()
  } catch {
    return uri
  }
}

/** Folder of a file; the folder above a folder. */
export function folderOf(uri: string): string {
  return Utils.dirname(URI.parse(uri)).toString()
}

/** Whether a file lies in a folder or in one below it. */
export function liesIn(uri: string, folder: string): boolean {
  return normalUri(uri).startsWith(`${normalUri(folder).replace(/\/+$/, '')}/`)
}

/** The URI of a name in a folder. */
export function within(folder: string, name: string): string {
  return Utils.joinPath(URI.parse(folder), name).toString()
}

/** Last part of the path, as a person would name the file. */
export function fileName(uri: string): string {
  return Utils.basename(URI.parse(uri))
}
