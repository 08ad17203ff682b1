import { spawnSync } from 'node:child_process'
import { readFileSync } from 'node:fs'

/**
 * Most memory, MB, that a process of its own has held after doing `work` on a file. Both sides of a row are measured
 * so, and Node's own memory is in both.
 */
export function peakOf(script: string, work: string, file: string): number {
  const run = spawnSync(process.execPath, [script, '--peak-of', work, file], { encoding: 'utf8' })
  if (run.status !== 0) throw new Error(`Measuring the memory of ${work} failed: ${run.stderr}`)
  return Number(run.stdout) / 1024
}

/** In the child: does the work that the command line names, and prints what it took. False in the parent. */
export function tellPeak(works: Readonly<Record<string, (bytes: Buffer) => unknown>>): boolean {
  const at = process.argv.indexOf('--peak-of')
  if (at < 0) return false
  const kept = works[process.argv[at + 1]](readFileSync(process.argv[at + 2]))
  process.stdout.write(String(process.resourceUsage().maxRSS))
  return kept !== undefined
}
