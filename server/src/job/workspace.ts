/**
 * The only way to files. The command line gives it the disk, the language server the editor's open texts over the
 * disk (or over the editor's own file system on the web), a test a map in memory.
 *
 * Everything is named by URI, as strings; relative names of a sheet are resolved against the sheet's URI.
 */
export interface Workspace {
  /** The bytes of a file; undefined where there is none or it cannot be read. */
  read(uri: string): Promise<Uint8Array | undefined>
  /** Names (not URIs) of the files of a folder; [] where there is none. */
  list(folder: string): Promise<readonly string[]>
}
