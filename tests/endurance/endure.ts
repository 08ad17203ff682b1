// What no unit test has the time for, each with its numbers printed: npm run endure [-- --only folder|large|typing]
// [-- --edits N].
import { execFile } from 'node:child_process'
import { mkdtempSync, openSync, readFileSync, rmSync, writeFileSync, writeSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { pathToFileURL } from 'node:url'
import type { DocumentDiagnosticReport } from 'vscode-languageserver'
import { SMALL_PROGRAMS } from '../job/workedExample.ts'
import { MemoryFiles, PlainClient } from '../protocol/plainClient.ts'
import { StdioServer } from '../protocol/stdioServer.ts'

const option = (name: string): string | undefined => {
  const at = process.argv.indexOf(`--${name}`)
  return at < 0 ? undefined : process.argv[at + 1]
}
const cli = join(process.cwd(), 'dist/cli.cjs')
const folder = mkdtempSync(join(tmpdir(), 'treen-endure-'))
const trials = { folder: manyPrograms, large: largeProgram, typing: longTyping }
let failed = false

try {
  for (const [name, trial] of Object.entries(trials)) if ((option('only') ?? name) === name) await trial()
} finally {
  rmSync(folder, { recursive: true, force: true })
}
process.exit(failed ? 1 : 0)

function must(holds: boolean, what: string): void {
  if (holds) return
  failed = true
  console.log(`  FAILED: ${what}`)
}

/** Opens one program of a folder of 2,000, then asks for all of them. */
async function manyPrograms(): Promise<void> {
  const text = `(blank: 80 x 80 x 24 mm, zero near-left face)\n(bit 1: flat 6 mm, 2 flutes)\n${SMALL_PROGRAMS['pocket.nc']}`
  for (let n = 0; n < 2000; n++) writeFileSync(join(folder, `p${n}.nc`), text.replace('F1200', `F${1200 + n}`))
  const server = await StdioServer.start()
  const uri = pathToFileURL(join(folder, 'p7.nc')).href
  const at = performance.now()
  server.open(uri, readFileSync(join(folder, 'p7.nc'), 'utf8'))
  await server.untilShown(uri, () => true)
  const opened = performance.now() - at
  console.log(
    `2,000 programs: one opened is checked in ${opened.toFixed(0)} ms, the server then holds ${residentOf(server)} MB`,
  )
  must(
    [...server.shown.keys()].every(each => each === uri),
    'Others were checked that nobody opened',
  )
  await server.stop()
  const all = await treen('check', folder, '--fail-on', 'never')
  console.log(`  all of them, asked of the command line: ${(all.ms / 1000).toFixed(1)} s, ${all.peak} MB at most`)
  must(all.code === 0, all.out.slice(-500))
}

/** A program of 200 MB: alone on the command line, and named by a sheet in an editor. */
async function largeProgram(): Promise<void> {
  const name = join(folder, 'large.nc')
  const file = openSync(name, 'w')
  const lines = 'G1 X12.345 Y67.890 Z-1.2 F1200\nX12.4 Y67.8\n'.repeat(20_000)
  writeSync(file, 'G21 G90 G17\nS16000 M3\nG0 Z5\n')
  let bytes = 0
  for (; bytes < 200e6; bytes += lines.length) writeSync(file, lines)
  writeSync(file, 'G1 X1..2\nG0 Z5\nM5\nM2\n')
  const alone = await treen('check', name, '--fail-on', 'never')
  const said = alone.out.trim().split('\n').slice(-8).join('\n    ')
  console.log(
    `${(bytes / 1e6).toFixed(0)} MB alone: ${(alone.ms / 1000).toFixed(1)} s, ${alone.peak} MB at most; it says\n    ${said}`,
  )
  must(
    alone.code === 0 && alone.out.includes('1..2'),
    'It does not come to the end, or does not see the slip in the last lines',
  )
  const sheet = join(folder, 'large.jobsheet.json')
  const text = JSON.stringify({
    bits: { '1': { shape: 'flat', diameter: 6 } },
    blanks: { board: { size: [100, 100, 20], material: 'maple' } },
    setups: [{ name: 'large', blank: 'board', program: 'large.nc', makes: 'other' }],
  })
  writeFileSync(sheet, text)
  const server = await StdioServer.start()
  const uri = pathToFileURL(sheet).href
  const at = performance.now()
  server.open(uri, text)
  const codes = await server.untilShown(uri, () => true)
  console.log(
    `  in a job in an editor: ${((performance.now() - at) / 1000).toFixed(1)} s, ${residentOf(server)} MB; ${codes.join(', ')}`,
  )
  must(codes.includes('sheet/too-large'), 'It is not said that its job is not run')
  await server.stop()
}

/** As many edits as half an hour of typing makes, in a burst of ten before each look at the findings. */
async function longTyping(): Promise<void> {
  const edits = Number(option('edits') ?? 20_000)
  if (!globalThis.gc) throw new Error('Run it by npm run endure: it needs the garbage collector at hand')
  const client = await PlainClient.start(new MemoryFiles(), { textDocument: { diagnostic: {} } })
  const text = `(blank: 80 x 80 x 24 mm, zero near-left face)\n(bit 1: flat 6 mm, 2 flutes)\n${SMALL_PROGRAMS['cavity.nc']}`
  const line = text.split('\n').findIndex(each => each.startsWith('G1 Z-16'))
  await client.open('a.nc', text)
  const textDocument = { uri: client.uri('a.nc') }
  const heaps: number[] = []
  let length = text.split('\n')[line].length
  for (let n = 1; n <= edits; n++) {
    const now = `G1 Z-${(n % 160) / 10} F${300 + (n % 7)}`
    void client.change('a.nc', now, { start: { line, character: 0 }, end: { line, character: length } })
    length = now.length
    if (n % 10 === 0) await client.request<DocumentDiagnosticReport>('textDocument/diagnostic', { textDocument })
    if (n % (edits / 10) !== 0) continue
    client.published.length = 0
    globalThis.gc()
    globalThis.gc()
    heaps.push(process.memoryUsage().heapUsed / 1e6)
  }
  console.log(`${edits} edits: heap after each tenth ${heaps.map(heap => heap.toFixed(1)).join(', ')} MB`)
  // The first tenths fill what is kept on purpose; from then on it is flat but for the noise of the collector.
  must(Math.max(...heaps.slice(5)) < Math.max(...heaps.slice(2, 5)) * 1.05 + 1, 'It grows')
  must(await client.stop(), 'The server is gone')
}

/** MB that the server's process holds now (as Linux tells it). */
function residentOf(server: StdioServer): number {
  const status = readFileSync(`/proc/${server.process.pid}/status`, 'utf8')
  return Math.round(Number(/VmRSS:\s+(\d+)/.exec(status)![1]) / 1024)
}

function treen(...args: string[]): Promise<{ code: number; ms: number; peak: number; out: string }> {
  const tell = `process.on('exit', () => process.stderr.write('\\npeak ' + process.resourceUsage().maxRSS)); process.argv.splice(1, 0, 'treen'); require(${JSON.stringify(cli)})`
  const at = performance.now()
  return new Promise(resolve => {
    execFile(process.execPath, ['-e', tell, ...args], { maxBuffer: 1 << 28 }, (error, out, err) => {
      const peak = Math.round(Number(/peak (\d+)/.exec(err)?.[1] ?? Number.NaN) / 1024)
      resolve({ code: error ? Number(error.code) : 0, ms: performance.now() - at, peak, out: out + err })
    })
  })
}
