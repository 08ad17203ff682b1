import type { Connection } from 'vscode-languageserver'

/** Work shorter than this is over before a person would look. */
const quietTime = 500

/**
 * Runs work that may take long; from half a second on the editor shows that it goes on, and lets it be given up.
 * @param abort called when the person gives it up
 */
export async function withProgress<T>(
  connection: Connection,
  supported: boolean,
  title: string,
  abort: () => void,
  work: () => Promise<T>,
): Promise<T> {
  if (!supported) return work()
  let over = false
  let done: (() => void) | undefined
  const timer = setTimeout(async () => {
    const progress = await connection.window.createWorkDoneProgress()
    if (over) return
    progress.begin(title, undefined, undefined, true)
    progress.token.onCancellationRequested(abort)
    done = () => progress.done()
  }, quietTime)
  try {
    return await work()
  } finally {
    over = true
    clearTimeout(timer)
    done?.()
  }
}
