import { readdir, readFile } from 'node:fs/promises'

/** Numbers of the language servers of ours that a desktop host below `home` has running (as Linux lists processes). */
export async function serverProcesses(home: string): Promise<number[]> {
  const found: number[] = []
  for (const name of await readdir('/proc')) {
    if (!/^\d+$/.test(name)) continue
    const line = await readFile(`/proc/${name}/cmdline`, 'utf8').catch(() => '')
    if (line.includes(home) && /dist\/server\.cjs/.test(line)) found.push(Number(name))
  }
  return found
}
