import { mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { parseLine, parseStringSync } from 'gcode-parser'
import { getLanguageService } from 'vscode-json-languageservice'
import { TextDocument } from 'vscode-languageserver-textdocument'
import { ProgramDocument } from '../../server/src/machine/programDocument.ts'
import { readProgram } from '../../server/src/machine/readProgram.ts'
import { scan } from '../../server/src/syntax/scanner.ts'
import { withLineEnd } from '../../server/src/syntax/text.ts'
import { TokenBuffer } from '../../server/src/syntax/tokens.ts'
import { atMost, below, faster, medians, type Row, told } from './harness.ts'
import { peakOf, tellPeak } from './peak.ts'
import { longProgram } from './programs.ts'

const LONG = 1_000_000
/** Lines that make 1 MB. */
const MEGABYTE = 29_300

/** What the language costs beside a well-known reader of single lines, a JSON parser and an editor's text store. */
export async function rows(): Promise<Row[]> {
  const text = longProgram(LONG)
  const sample = largestSample()
  return [
    ...(await readingRows('1,000,000 lines', text, 1)),
    memoryRow(text),
    ...(await readingRows(`largest sample (${sample.lines} lines)`, sample.text, 50)),
    ...(await typingRows(text, sample.text)),
  ]
}

/** Reading a whole text, `times` over so that a short one can be timed; the times told are of one reading. */
async function readingRows(name: string, text: string, times: number): Promise<Row[]> {
  const bytes = new TextEncoder().encode(text)
  const ended = withLineEnd(bytes)
  const lines = text.split('\n')
  const starts = new Uint32Array(lines.length + 1)
  const tokens = new TokenBuffer()
  const numbers = JSON.stringify(numbersOf(ended))
  // As in an editor some program is always open: where none is alive, the engine's sweep throws the compiled code away.
  const open = new ProgramDocument(bytes)
  const over = (work: () => void) => () => {
    for (let i = 0; i < times; i++) work()
  }
  const all = await medians({
    ends: over(() => findLineEnds(bytes, starts)),
    tokens: over(() => {
      for (let at = 0; at < ended.length; ) at = scan(ended, at, 256, tokens)
    }),
    motions: over(() => readProgram(bytes).motions),
    json: over(() => JSON.parse(numbers)),
    parseLine: over(() => {
      for (const line of lines) parseLine(line)
    }),
    parseString: over(() => parseStringSync(text)),
  })
  if (open.program().lineCount < 1) throw new Error('The program is empty.')
  const one = (time: number): number => time / times
  return [
    faster(`${name}: tokens, beside gcode-parser line by line`, one(all.tokens), one(all.parseLine), 20),
    atMost(`${name}: tokens, beside finding the line ends`, 'ms', one(all.tokens), one(all.ends), 4),
    faster(
      `${name}: text to motions, beside gcode-parser's parseStringSync`,
      one(all.motions),
      one(all.parseString),
      25,
    ),
    atMost(
      `${name}: text to motions, beside JSON.parse of as many numbers`,
      'ms',
      one(all.motions),
      one(all.json),
      0.4,
    ),
  ]
}

/** The least that any reader of lines does: on its own, so that the engine makes the best of it. */
function findLineEnds(bytes: Uint8Array, starts: Uint32Array): number {
  const { length } = bytes
  let n = 0
  for (let i = 0; i < length; i++) if (bytes[i] === 10) starts[n++] = i + 1
  return n
}

function memoryRow(text: string): Row {
  const folder = mkdtempSync(join(tmpdir(), 'bench-'))
  try {
    const file = join(folder, 'long.nc')
    writeFileSync(file, text)
    const ours = peakOf(__filename, 'motions', file)
    const theirs = peakOf(__filename, 'parseString', file)
    return atMost('1,000,000 lines: most memory of text to motions, beside parseStringSync', 'MB', ours, theirs, 1 / 3)
  } finally {
    rmSync(folder, { recursive: true })
  }
}

/** One character typed in the middle. */
async function typingRows(long: string, sample: string): Promise<Row[]> {
  const inLong = await typed(long)
  const inSample = await typed(sample)
  const megabyte = longProgram(MEGABYTE)
  const inMegabyte = await typed(megabyte)
  const json = await typedInJson(megabyte.length)
  const what = 'one character typed to findings of the language'
  return [
    faster(`1,000,000 lines: ${what}, beside TextDocument.update`, inLong.findings, inLong.update, 100),
    below(`1,000,000 lines: ${what}`, 'ms', inLong.findings, 1),
    faster(`1 MB: ${what}, beside a JSON language service`, inMegabyte.findings, json, 500),
    below(`largest sample: ${what}`, 'ms', inSample.findings, 1),
    told('largest sample: TextDocument.update of the same', 'ms', inSample.update),
  ]
}

/** Characters in a row: one alone is over before a clock can tell. */
const TYPINGS = 20

/** Times of one character, typed in the middle and taken back again turn about. */
async function typed(text: string): Promise<{ findings: number; update: number }> {
  const program = new ProgramDocument(new TextEncoder().encode(text))
  program.program()
  const document = TextDocument.create('file:///a.nc', 'gcode', 1, text)
  const line = document.lineCount >> 1
  // Behind the first digit of a coordinate.
  const column = text.split('\n')[line].search(/\d+\./) + 1
  const before = { line, character: column }
  const behind = { line, character: column + 1 }
  const edits = [
    { range: { start: before, end: before }, text: '1' },
    { range: { start: before, end: behind }, text: '' },
  ]
  let version = 1
  const { findings, update } = await medians({
    findings: () => {
      for (let i = 0; i < TYPINGS; i++) {
        const edit = edits[i % 2]
        program.edit(edit.range, edit.text)
        findingsOf(program)
      }
    },
    update: () => {
      for (let i = 0; i < TYPINGS; i++) TextDocument.update(document, [edits[i % 2]], ++version)
    },
  })
  return { findings: findings / TYPINGS, update: update / TYPINGS }
}

const findingsOf = (program: ProgramDocument): number => program.program().problems.length

/** The same in a JSON document of as many bytes: to its syntax errors, without a schema. */
async function typedInJson(bytes: number): Promise<number> {
  const service = getLanguageService({})
  const entries = Array.from({ length: Math.round(bytes / 32) }, (_, i) => `  [${i}.25, 20.2500, -4.1234],`)
  const document = TextDocument.create('file:///a.json', 'json', 1, `[\n${entries.join('\n')}\n  0\n]\n`)
  const at = { line: document.lineCount >> 1, character: 3 }
  let version = 1
  const { json } = await medians({
    json: async () => {
      TextDocument.update(document, [{ range: { start: at, end: at }, text: '1' }], ++version)
      await service.doValidation(document, service.parseJSONDocument(document))
    },
  })
  return json
}

/** Every number of the text's words, as an array. */
function numbersOf(ended: Uint8Array): number[] {
  const tokens = new TokenBuffer()
  scan(ended, 0, Number.POSITIVE_INFINITY, tokens)
  const numbers: number[] = []
  for (let i = 0; i < tokens.count; i++) if (tokens.kind[i] >= 65) numbers.push(tokens.value[i])
  return numbers
}

function largestSample(): { text: string; lines: number } {
  const texts = readdirSync('samples', { recursive: true })
    .map(String)
    .filter(name => name.endsWith('.nc'))
    .map(name => readFileSync(join('samples', name), 'utf8'))
  const text = texts.reduce((largest, other) => (other.length > largest.length ? other : largest))
  return { text, lines: text.split('\n').length }
}

tellPeak({
  motions: bytes => readProgram(bytes).motions,
  parseString: bytes => parseStringSync(bytes.toString('utf8')),
})
