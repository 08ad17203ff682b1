import { readdirSync, readFileSync } from 'node:fs'
import { join } from 'node:path'
import { fileURLToPath } from 'node:url'
import { expect, it } from 'vitest'

/** Every regular expression of the product, against long hostile texts: none may take time out of all proportion. */

const root = fileURLToPath(new URL('../..', import.meta.url))
/** From short to long: one that doubles its time with each letter shows at the first, one that squares it at the last. */
const LENGTHS = [30, 300, 3000, 12_000]
/** ms of the processor's time; a straight run over 12 kB takes a tenth of one. */
const MOST = 40

/** Those that go twice over their text, and why that cannot hurt: what they are given is short. */
const short: Readonly<Record<string, string>> = {
  '/\\/+$/': 'the address of a folder that the editor has open',
  '/[\\r\\n]+$/': 'one line, which has one end',
  '/\\.?0+$/': 'what toFixed gives',
  '/\\d[\\d. ]*$/': 'an N word, which always ends with its digits: the first attempt holds',
}

interface Found {
  readonly where: string
  readonly source: string
  readonly flags: string
}

/** Regular expressions as they stand in a text in TypeScript: not in strings, templates or comments. */
function literalsIn(where: string, code: string): Found[] {
  const found: Found[] = []
  let last = ''
  for (let at = 0; at < code.length; ) {
    const rest = code.slice(at, at + 2)
    const c = code[at]
    if (rest === '//') at = ends(code, at, '\n')
    else if (rest === '/*') at = ends(code, at, '*/') + 1
    else if (c === "'" || c === '"' || c === '`') {
      at = skip(code, at, c)
      last = c
    } else if (c === '/' && !/[\w)\]]/.test(last) && regexEnd(code, at) > 0) {
      const end = regexEnd(code, at)
      const flags = /^[a-z]*/.exec(code.slice(end + 1))![0]
      // What is no set of flags is the end of a tag or of a path in a template.
      if (/^[gimsuvy]*$/.test(flags) && new Set(flags).size === flags.length)
        found.push({ where, source: code.slice(at + 1, end), flags })
      at = end + 1 + flags.length
      last = ')'
    } else {
      if (c.trim() !== '') last = c
      // `return /x/` is no division.
      if (/[a-z]/.test(c) && /\breturn$/.test(code.slice(Math.max(0, at - 6), at + 1))) last = ';'
      at++
    }
  }
  return found
}

const ends = (code: string, from: number, mark: string) => {
  const at = code.indexOf(mark, from)
  return at < 0 ? code.length : at + 1
}

function skip(code: string, from: number, quote: string): number {
  let at = from + 1
  while (at < code.length && code[at] !== quote) at += code[at] === '\\' ? 2 : 1
  return at + 1
}

function regexEnd(code: string, from: number): number {
  let inClass = false
  let at = from + 1
  while (inClass || code[at] !== '/') {
    // In a template in a template: no expression.
    if (code[at] === '\n' || at >= code.length) return -1
    if (code[at] === '\\') at++
    else if (code[at] === '[') inClass = true
    else if (code[at] === ']') inClass = false
    at++
  }
  return at
}

const folders = ['server/src', 'client/src', 'webview/src']
const files = folders.flatMap(folder =>
  readdirSync(join(root, folder), { recursive: true, encoding: 'utf8' })
    .filter(name => name.endsWith('.ts') && !name.endsWith('wasm.ts'))
    .map(name => `${folder}/${name}`),
)
const all = files.flatMap(file => literalsIn(file, readFileSync(join(root, file), 'utf8')))
const patterns = [...new Map(all.map(each => [`/${each.source}/${each.flags}`, each])).entries()]

/** Pieces that expressions stumble over, repeated; the tail keeps an end from being reached. */
const pieces = [
  'a',
  'A',
  '0',
  ' ',
  '\t',
  '/',
  '.',
  '-',
  '+-',
  '(',
  ')',
  '[',
  '<',
  '>',
  '"',
  '\\',
  '#',
  ',',
  '1 ',
  'a ',
  'o',
  'o1 ',
  'x1',
  '0.',
  '*',
  '=',
  '_',
  '\n',
  '\r',
  ' =',
  '1,',
  '::',
  'é',
]
const textsOf = (length: number) =>
  pieces.flatMap(piece => {
    const long = piece.repeat(Math.ceil(length / piece.length))
    return ['', 'bit 1: ', 'o', 'G'].flatMap(head => [`${head}${long}`, `${head}${long}\u0001`, `${head}${long}!x`])
  })
const texts = LENGTHS.flatMap(textsOf)

/** ms of the processor's time. The process's other threads are counted in: what is slow is so every time. */
function spentOn(expression: RegExp, text: string): number {
  let least = Number.POSITIVE_INFINITY
  for (let tries = 0; tries < 5 && least > MOST; tries++) {
    const before = process.cpuUsage()
    expression.test(text)
    least = Math.min(least, process.cpuUsage(before).user / 1000)
  }
  return least
}

it('finds the expressions', () => {
  expect(patterns.length).toBeGreaterThan(100)
})

it('takes each over long texts of anything without stumbling', () => {
  const slow: string[] = []
  for (const [name, { where, source, flags }] of patterns) {
    if (Object.hasOwn(short, name)) continue
    const expression = new RegExp(source, flags.replace(/[gy]/g, ''))
    for (const text of texts) {
      const spent = spentOn(expression, text)
      if (spent > MOST) {
        slow.push(`${where}: ${name} takes ${spent.toFixed(0)} ms over ${JSON.stringify(text.slice(0, 12))}…`)
        break
      }
    }
  }
  expect(slow).toEqual([])
})
