import { FileType, Uri, workspace } from 'vscode'
import type { BaseLanguageClient } from 'vscode-languageclient'
import {
  type ListFolderParams,
  type ListFolderResult,
  listFolderRequest,
  type ReadFileParams,
  type ReadFileResult,
  readFileRequest,
} from '../../server/src/features/editorMessages.ts'

/** Reads for the server what only the editor can reach: remote folders, and on the web everything. */
export function answerForFiles(client: BaseLanguageClient): void {
  client.onRequest(readFileRequest, async ({ uri }: ReadFileParams): Promise<ReadFileResult> => {
    try {
      return base64Of(await workspace.fs.readFile(Uri.parse(uri)))
    } catch {
      return null
    }
  })
  client.onRequest(listFolderRequest, async ({ uri }: ListFolderParams): Promise<ListFolderResult> => {
    try {
      const entries = await workspace.fs.readDirectory(Uri.parse(uri))
      return entries.filter(([, type]) => (type & FileType.File) !== 0).map(([name]) => name)
    } catch {
      return []
    }
  })
}

function base64Of(bytes: Uint8Array): string {
  let binary = ''
  // In pieces: an argument list of a whole file overflows the stack.
  for (let at = 0; at < bytes.length; at += 0x8000) {
    binary += String.fromCharCode(...bytes.subarray(at, at + 0x8000))
  }
  return btoa(binary)
}
