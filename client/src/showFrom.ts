import { Range, Uri, window } from 'vscode'
import type { Previews } from './previews.ts'

/** Puts the caret on a line of a program and opens its preview, which goes to where the caret is. */
export async function showFrom(previews: Previews, given: unknown, line: unknown): Promise<void> {
  if (typeof given !== 'string' || typeof line !== 'number') return
  const uri = Uri.parse(given)
  await window.showTextDocument(uri, { selection: new Range(line, 0, line, 0) })
  await previews.open(uri)
}
