import type { Checker } from './checker.ts'
import { isAbort } from './handling.ts'

/**
 * Waits for the check of the present text of a program, but no longer than `patience` (ms): nothing of ours makes an
 * editor stand still.
 * @throws AbortError once nobody wants the answer
 */
export async function settled(checker: Checker, uri: string, signal: AbortSignal, patience: number): Promise<void> {
  if (checker.knownChecksOf(uri)) return
  const enough = new AbortController()
  const stop = () => enough.abort()
  const timer = setTimeout(stop, patience)
  signal.addEventListener('abort', stop, { once: true })
  try {
    await checker.checksOf(uri, enough.signal)
  } catch (error) {
    signal.throwIfAborted()
    if (!isAbort(error)) throw error
  } finally {
    clearTimeout(timer)
    signal.removeEventListener('abort', stop)
  }
}
