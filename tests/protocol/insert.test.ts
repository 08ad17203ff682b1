import { describe, expect, test } from 'vitest'
import type { CompletionItem, InlayHint, Position, TextEdit } from 'vscode-languageserver'
import type { OperationResult, OperationsResult } from '../../server/src/features/editorMessages.ts'
import { sheetWith } from '../rules/job.ts'
import { codes, MemoryFiles, PlainClient } from './plainClient.ts'

const start = ['G21 G90 G17 G94', 'T1 M6', 'M3 S16000', 'G0 Z20', '', 'G0 Z20', 'M5', 'M30'].join('\n')
const sheet = JSON.stringify(sheetWith())
const textDocument = { uri: 'file:///bench/part.nc' }
const place: Position = { line: 4, character: 0 }

async function opened(capabilities: object = {}, text = start, files: Record<string, string> = {}) {
  const disk = new MemoryFiles({ 'job.jobsheet.json': sheet, 'part.nc': text, ...files })
  const client = await PlainClient.start(disk, capabilities)
  await client.open('part.nc', text)
  // The first check is done once hints are answered.
  const range = { start: place, end: place }
  await client.request<InlayHint[]>('textDocument/inlayHint', { textDocument, range })
  return client
}

const complete = (client: PlainClient, position: Position) =>
  client.request<CompletionItem[]>('textDocument/completion', { textDocument, position })

const newText = ({ textEdit }: CompletionItem) => (textEdit as TextEdit).newText

describe('writing a program in a plain client', () => {
  test('an operation that is completed makes no finding, and is checked like any text', async () => {
    const client = await opened()
    const bore = (await complete(client, place)).find(({ label }) => label === 'helical bore')!
    expect(bore.insertTextFormat).toBeUndefined()
    const { range } = bore.textEdit as TextEdit
    expect(range).toEqual({ start: place, end: place })
    await client.change('part.nc', newText(bore), range)
    const hints = await client.request<InlayHint[]>('textDocument/inlayHint', {
      textDocument,
      range: { start: place, end: { line: 99, character: 0 } },
    })
    expect(hints.map(({ label }) => label)).toContain('R 1.8 mm')
    expect(codes(client.shown.get(textDocument.uri) ?? [])).toEqual([])
    expect(await client.stop()).toBe(true)
    expect(client.log).toEqual([])
  })

  test('has places to type its feeds in, where the client can', async () => {
    const client = await opened({ textDocument: { completion: { completionItem: { snippetSupport: true } } } })
    const ramp = (await complete(client, place)).find(({ label }) => label === 'ramp into a pocket')!
    expect(ramp.insertTextFormat).toBe(2)
    expect(newText(ramp)).toMatch(/F\$\{1:270\}/)
    expect(newText(ramp)).toMatch(/F\$\{2:\d+\}/)
    expect(await client.stop()).toBe(true)
  })

  test.each([['utf-16'], ['utf-8']])('words are completed in %s columns', async encoding => {
    const client = await opened({ general: { positionEncodings: [encoding] } })
    const line = '(🪵) T'
    await client.change('part.nc', line, { start: place, end: place })
    const character = encoding === 'utf-8' ? Buffer.byteLength(line) : line.length
    const [bit] = await complete(client, { line: 4, character })
    expect(bit).toMatchObject({ label: 'T1', detail: '6 mm flat' })
    expect((bit.textEdit as TextEdit).range.start.character).toBe(character - 1)
    expect(await client.stop()).toBe(true)
    expect(client.log).toEqual([])
  })

  test('while the job is being worked out, completion answers by the wood as it was', async () => {
    const files = new MemoryFiles({ 'job.jobsheet.json': sheet, 'part.nc': start })
    const client = await PlainClient.start(files)
    await client.open('part.nc', start)
    await client.request('textDocument/inlayHint', { textDocument, range: { start: place, end: place } })
    let goOn = () => {}
    files.held.set(client.uri('job.jobsheet.json'), new Promise(resolve => (goOn = resolve)))
    await client.change('part.nc', 'bo', { start: place, end: place })
    const found = await complete(client, { line: 4, character: 2 })
    expect(found.map(({ label }) => label)).toContain('helical bore')
    goOn()
    expect(await client.stop()).toBe(true)
  })
})

describe('an operation with numbers of one’s own', () => {
  const at = { uri: textDocument.uri, line: 4 }

  test('is reckoned, tried in the job, and written', async () => {
    const client = await opened()
    const offered = await client.request<OperationsResult>('treen/operations', at)
    if ('why' in offered) throw new Error(offered.why)
    const bore = offered.operations.find(({ id }) => id === 'bore')!
    expect(bore.parameters.map(({ name, value, unit }) => [name, value, unit])).toEqual([
      ['x', 50, 'mm'],
      ['y', 40, 'mm'],
      ['diameter', 9.6, 'mm'],
      ['depth', 9, 'mm'],
    ])
    const own = { x: 20, y: 30, diameter: 8, depth: 4 }
    const result = await client.request<OperationResult>('treen/operation', { ...at, id: 'bore', values: own })
    expect(result).toMatchObject({
      raises: [],
      text: expect.stringMatching(/^\(helical bore 8 mm across, 4 mm deep\)\n/),
    })
    expect(await client.stop()).toBe(true)
    expect(client.log).toEqual([])
  })

  test('what it would do wrong is said before it is written', async () => {
    const client = await opened()
    const values = { depth: 21 }
    const result = await client.request<OperationResult>('treen/operation', { ...at, id: 'bore', values })
    expect('raises' in result && result.raises.join(' ')).toContain('depth/below-stock')
    const refused = await client.request<OperationResult>('treen/operation', {
      ...at,
      id: 'bore',
      values: { diameter: 30 },
    })
    expect(refused).toEqual({ why: expect.stringContaining('cut a round pocket') })
    expect(await client.request('treen/operations', { ...at, line: 9 })).toEqual({
      why: 'The program has ended before this line.',
    })
    expect(await client.request('treen/operations', { uri: 'file:///bench/none.nc', line: 0 })).toEqual({
      why: 'Open the program first.',
    })
    expect(await client.stop()).toBe(true)
    expect(client.log).toEqual([])
  })

  test('in inches where the program is', async () => {
    const client = await opened({}, start.replace('G21', 'G20').replaceAll('Z20', 'Z1'))
    const offered = await client.request<OperationsResult>('treen/operations', at)
    if ('why' in offered) throw new Error(offered.why)
    const [x] = offered.operations[0].parameters
    expect(x).toMatchObject({ unit: 'in', value: 1.969 })
    const values = { x: 2, y: 1.5, diameter: 0.4, depth: 0.25 }
    const result = await client.request<OperationResult>('treen/operation', { ...at, id: 'bore', values })
    expect(result).toMatchObject({ raises: [], text: expect.stringContaining('\nX2.082 Y1.5\n') })
    expect(await client.stop()).toBe(true)
  })

  test('nothing is offered where no wood is known', async () => {
    const client = await opened({}, start, { 'job.jobsheet.json': '{}' })
    expect(await client.request('treen/operations', at)).toEqual({
      why: expect.stringContaining('No wood is known here'),
    })
    expect(await client.stop()).toBe(true)
  })
})
