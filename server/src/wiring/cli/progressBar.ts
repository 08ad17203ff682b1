/** Work shorter than this is over before a person would look, ms. */
const quietTime = 500
/** Between two drawings, ms. */
const pause = 100
const width = 24

/** How far a check has come. */
export interface Progress {
  readonly done: number
  readonly total: number
  /** What is being checked now, in a few words. */
  readonly now: string
}

/** A bar on the terminal's error stream, which leaves no trace; nothing where that is no terminal. */
export function progressBar(stream: NodeJS.WriteStream = process.stderr) {
  const from = performance.now()
  let last = from + quietTime - pause
  let shown = false
  return {
    show(progress: Progress): void {
      const now = performance.now()
      if (!stream.isTTY || now - last < pause) return
      last = now
      shown = true
      stream.write(`\r\x1b[K${barOf(progress, stream.columns ?? 80)}`)
    },
    clear(): void {
      if (shown) stream.write('\r\x1b[K')
    },
  }
}

/** One line no wider than the terminal: the bar, the count, the name. */
export function barOf({ done, total, now }: Progress, columns: number): string {
  const full = Math.round((width * done) / Math.max(total, 1))
  const bar = `${'█'.repeat(full)}${'░'.repeat(width - full)} ${done} of ${total}  ${now}`
  return [...bar].slice(0, columns - 1).join('')
}
