import type { Connection } from 'vscode-languageserver'
import {
  type ListFolderResult,
  listFolderRequest,
  type ReadFileResult,
  readFileRequest,
} from '../features/editorMessages.ts'
import type { Workspace } from '../job/workspace.ts'
import type { Documents } from './documents.ts'

/** The editor's own file system, by asking the client: all there is on the web, and remote folders on a desktop. */
export function clientWorkspace(connection: Connection): Workspace {
  return {
    async read(uri) {
      const base64 = await connection.sendRequest<ReadFileResult>(readFileRequest, { uri })
      return base64 === null ? undefined : Uint8Array.from(atob(base64), character => character.charCodeAt(0))
    },
    list: uri => connection.sendRequest<ListFolderResult>(listFolderRequest, { uri }),
  }
}

/** Files of the disk where there is one, the editor's for every other kind of address. */
export function routedWorkspace(disk: Workspace | undefined, client: Workspace | undefined): Workspace {
  const none: Workspace = { read: async () => undefined, list: async () => [] }
  const of = (uri: string) => (uri.startsWith('file:') && disk) || client || none
  return { read: uri => of(uri).read(uri), list: folder => of(folder).list(folder) }
}

/**
 * The open texts over the files, for one piece of work. Remembers which version of what it was asked for, so that the
 * work can be told stale: a text not open has no version, and neither has a file that is missing.
 */
export class Snapshot implements Workspace {
  readonly seen = new Map<string, number | undefined>()
  readonly #documents: Documents
  readonly #files: Workspace
  #outdated = false

  constructor(documents: Documents, files: Workspace) {
    this.#documents = documents
    this.#files = files
  }

  /** Something read has changed that has no version: a file that is not open. */
  outdate(): void {
    this.#outdated = true
  }

  async read(uri: string): Promise<Uint8Array | undefined> {
    const document = this.#documents.get(uri)
    this.seen.set(uri, document?.version)
    return document ? new TextEncoder().encode(document.getText()) : this.#files.read(uri)
  }

  list(folder: string): Promise<readonly string[]> {
    return this.#files.list(folder)
  }

  /** Whether everything read is still what the editor shows. */
  current(): boolean {
    if (this.#outdated) return false
    for (const [uri, version] of this.seen) if (this.#documents.version(uri) !== version) return false
    return true
  }
}
