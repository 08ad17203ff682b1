// Compiles the stock kernel and keeps the result beside it as text, so that node, a web worker, a webview and the tests
// all load the very same module without a file to fetch. Compiled again only when its source has changed.
import { createHash } from 'node:crypto'
import { existsSync, readFileSync, writeFileSync } from 'node:fs'
import { dirname, join } from 'node:path'
import { fileURLToPath } from 'node:url'

const folder = join(dirname(dirname(fileURLToPath(import.meta.url))), 'server/src/stock/kernel')
const source = join(folder, 'kernel.as')
const module = join(folder, 'wasm.ts')

const OPTIONS = [
  '--enable',
  'simd',
  '--runtime',
  'stub',
  '--noAssert',
  '--use',
  'abort=',
  '--optimizeLevel',
  '3',
  '--shrinkLevel',
  '0',
]

/** The text of the module that `source` compiles to. */
export async function compileKernel() {
  const text = readFileSync(source, 'utf8')
  const asc = await import('assemblyscript/asc')
  const files = new Map([['kernel.ts', text]])
  let binary
  const { error, stderr } = await asc.main(['kernel.ts', '--outFile', 'kernel.wasm', ...OPTIONS], {
    readFile: name => files.get(name) ?? null,
    writeFile: (name, contents) => {
      if (name === 'kernel.wasm') binary = contents
    },
    listFiles: () => [],
  })
  if (error) throw new Error(`the stock kernel does not compile: ${error.message}\n${stderr.toString()}`)
  return [
    '// Made by .build/kernel.mjs from kernel.as; not to be edited.',
    `export const KERNEL_SOURCE = '${fingerprint(text)}'`,
    `export const KERNEL_WASM =\n  '${Buffer.from(binary).toString('base64')}'`,
    '',
  ].join('\n')
}

/** Tells one source (and the way it is compiled) from another. */
export const fingerprint = text =>
  createHash('sha256').update(text).update(OPTIONS.join(' ')).digest('hex').slice(0, 16)

/** Makes the module anew where it does not belong to its source. */
export async function refreshKernel() {
  const current = existsSync(module) ? readFileSync(module, 'utf8') : ''
  if (current.includes(`'${fingerprint(readFileSync(source, 'utf8'))}'`)) return false
  writeFileSync(module, await compileKernel())
  return true
}

if (process.argv[1] === fileURLToPath(import.meta.url)) {
  if (process.argv.includes('--print')) process.stdout.write(await compileKernel())
  else console.log((await refreshKernel()) ? 'kernel compiled' : 'kernel is up to date')
}
