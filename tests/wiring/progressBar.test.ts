import { describe, expect, it, vi } from 'vitest'
import { barOf, progressBar } from '../../server/src/wiring/cli/progressBar.ts'

const terminal = (isTTY: boolean) => {
  const written: string[] = []
  const stream = { isTTY, columns: 40, write: (text: string) => written.push(text) }
  return { stream: stream as unknown as NodeJS.WriteStream, written }
}

describe('the progress bar', () => {
  it('fills with what is done and keeps to the width', () => {
    expect(barOf({ done: 1, total: 2, now: 'a.nc' }, 80)).toBe(`${'█'.repeat(12)}${'░'.repeat(12)} 1 of 2  a.nc`)
    expect([...barOf({ done: 1, total: 2, now: 'a-very-long-name-of-a-program.nc' }, 40)].length).toBe(39)
  })

  it('shows on a terminal, for long work only, and leaves no trace', () => {
    vi.useFakeTimers()
    const { stream, written } = terminal(true)
    const bar = progressBar(stream)
    bar.show({ done: 0, total: 2, now: 'a.nc' })
    expect(written).toEqual([])
    vi.advanceTimersByTime(600)
    bar.show({ done: 1, total: 2, now: 'b.nc' })
    expect(written[0]).toContain('1 of 2  b.nc')
    bar.clear()
    expect(written.at(-1)).toBe('\r\x1b[K')
    vi.useRealTimers()
  })

  it('is silent where no person looks', () => {
    vi.useFakeTimers()
    const { stream, written } = terminal(false)
    const bar = progressBar(stream)
    vi.advanceTimersByTime(600)
    bar.show({ done: 1, total: 2, now: 'b.nc' })
    bar.clear()
    expect(written).toEqual([])
    vi.useRealTimers()
  })
})
