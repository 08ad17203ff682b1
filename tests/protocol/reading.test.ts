import { describe, expect, test } from 'vitest'
import type { CodeLens, Hover, InlayHint, MarkupContent } from 'vscode-languageserver'
import { sheetWith } from '../rules/job.ts'
import { MemoryFiles, PlainClient } from './plainClient.ts'

const slot = [
  '(🪵 slot)',
  'G21 G90 M3 S16000 (🪵)',
  'G0 Z5',
  'G0 X30 Y40',
  'G1 Z-3 F250',
  '(🪵) G1 X70 F1600',
  'G3 X60 Y50 I-10',
  'G0 Z20',
  'M30',
].join('\n')

const sheet = JSON.stringify(sheetWith())
const textDocument = { uri: 'file:///bench/part.nc' }
const everything = { start: { line: 0, character: 0 }, end: { line: 99, character: 0 } }

async function opened(capabilities: object = {}, options: object = {}, settings?: object) {
  const files = new MemoryFiles({ 'job.jobsheet.json': sheet, 'part.nc': slot })
  const client = await PlainClient.start(files, capabilities, options)
  if (settings) await client.connection.sendNotification('workspace/didChangeConfiguration', { settings })
  await client.open('part.nc', slot)
  return { client, files }
}

const hintsOf = async (client: PlainClient) =>
  (await client.request<InlayHint[]>('textDocument/inlayHint', { textDocument, range: everything })).map(
    ({ position, label }) => `${position.line}:${position.character} ${label}`,
  )

const hoverAt = (client: PlainClient, line: number, character: number) =>
  client.request<Hover>('textDocument/hover', { textDocument, position: { line, character } })

describe('reading a program in a plain client', () => {
  test.each([['utf-16'], ['utf-8']])('hints stand after their words in %s columns', async encoding => {
    const { client } = await opened({ general: { positionEncodings: [encoding] } })
    expect(client.server.capabilities.inlayHintProvider).toBe(true)
    // The tree is two units of UTF-16, four bytes.
    const by = encoding === 'utf-8' ? 2 : 0
    expect(await hintsOf(client)).toEqual([
      '1:17 0.05 mm a tooth',
      '4:6 17 mm left',
      `5:${17 + by} 0.05 mm a tooth`,
      '6:15 R 10 mm',
    ])
    expect(await client.stop()).toBe(true)
    expect(client.log).toEqual([])
  })

  test('hints can be switched one by one', async () => {
    const hints = { left: false, chipLoad: false, time: true }
    const { client } = await opened({}, {}, { treen: { hints } })
    const found = await hintsOf(client)
    expect(found[0]).toMatch(/^0:9 \d+ s$/)
    expect(found.slice(1)).toEqual(['6:15 R 10 mm'])
    expect(await client.stop()).toBe(true)
  })

  test('a hover tells what a word does, with a drawing where depth is the matter', async () => {
    const { client } = await opened()
    await hintsOf(client)
    const { contents, range } = await hoverAt(client, 4, 3)
    const { kind, value } = contents as MarkupContent
    expect(kind).toBe('markdown')
    expect(range).toEqual({ start: { line: 4, character: 3 }, end: { line: 4, character: 6 } })
    expect(value).toContain('**Z**: height (NISTIR 6556, 3.5.17)')
    expect(value).toContain('**17 mm left under the bit**')
    expect(value).toContain('![Section through blank and bit](data:image/svg+xml;base64,')
    // An editor cuts a hover at 100,000 characters.
    expect(value.length).toBeLessThan(20_000)
    expect(JSON.stringify(await hoverAt(client, 5, 12))).not.toContain('data:')
    expect(await client.stop()).toBe(true)
    expect(client.log).toEqual([])
  })

  test('without the drawing where somebody does not want it, and as plain text where the client knows no other', async () => {
    const quiet = await opened({}, {}, { treen: { hover: { section: false } } })
    await hintsOf(quiet.client)
    const words = JSON.stringify(await hoverAt(quiet.client, 4, 3))
    expect(words).toContain('17 mm left')
    expect(words).not.toContain('data:')
    const plain = await opened({ textDocument: { hover: { contentFormat: ['plaintext'] } } })
    await hintsOf(plain.client)
    const { kind, value } = (await hoverAt(plain.client, 4, 3)).contents as MarkupContent
    expect(kind).toBe('plaintext')
    expect(value).toContain('3 mm under the face; 17 mm left under the bit')
    expect(value).not.toMatch(/\*\*|data:/)
    expect([await quiet.client.stop(), await plain.client.stop()]).toEqual([true, true])
  })

  test('while the job is being worked out, a hover says at once what the text alone tells', async () => {
    const { client, files } = await opened()
    await hintsOf(client)
    let goOn = () => {}
    files.held.set(client.uri('job.jobsheet.json'), new Promise(resolve => (goOn = resolve)))
    await client.change('part.nc', '4', { start: { line: 4, character: 5 }, end: { line: 4, character: 6 } })
    const stale = JSON.stringify(await hoverAt(client, 4, 3))
    expect(stale).toContain('to X30 Y40 Z-4 mm')
    expect(stale).not.toContain('left under the bit')
    goOn()
    expect(await hintsOf(client)).toContain('4:6 16 mm left')
    expect(JSON.stringify(await hoverAt(client, 4, 3))).toContain('16 mm left under the bit')
    expect(await client.stop()).toBe(true)
    expect(client.log).toEqual([])
  })

  test('figures stand over operations, and show the preview from there where the client can', async () => {
    const { client } = await opened({}, { previews: true })
    const lenses = await client.request<CodeLens[]>('textDocument/codeLens', { textDocument })
    expect(lenses.map(({ range, command }) => [range.start.line, command?.command])).toEqual([
      [0, ''],
      [0, 'treen.showFrom'],
    ])
    expect(lenses[0].command?.title).toMatch(/^6 mm flat · 3 mm deep · \d+ s · 1\.1 cm³/)
    expect(lenses[1].command?.arguments).toEqual([textDocument.uri, 0])
    const plain = await opened({}, {}, { treen: { lenses: false } })
    expect(await plain.client.request('textDocument/codeLens', { textDocument })).toEqual([])
    expect([await client.stop(), await plain.client.stop()]).toEqual([true, true])
  })

  test('what stands between the lines is asked for again when the job has been worked out', async () => {
    const { client } = await opened({
      workspace: { inlayHint: { refreshSupport: true }, codeLens: { refreshSupport: true } },
    })
    const heard: string[] = []
    const refreshed = new Promise<void>(resolve => {
      for (const method of ['workspace/inlayHint/refresh', 'workspace/codeLens/refresh']) {
        client.connection.onRequest(method, () => {
          if (!heard.includes(method)) heard.push(method)
          if (heard.length === 2) resolve()
          return null
        })
      }
    })
    await refreshed
    expect(heard.sort()).toEqual(['workspace/codeLens/refresh', 'workspace/inlayHint/refresh'])
    expect(await client.stop()).toBe(true)
  })
})
