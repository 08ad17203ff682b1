import { describe, expect, test } from 'vitest'
import { CancellationTokenSource } from 'vscode-jsonrpc/node'
import type { DocumentDiagnosticReport, Hover } from 'vscode-languageserver'
import { codes, MemoryFiles, PlainClient } from './plainClient.ts'

const good = 'G21 G90 G17\nS16000 M3\nG0 Z5\nG0 X0 Y0\nG1 Z-1 F300\nG1 X20 F1200\nG0 Z5\nM5\nM2\n'

describe('a text in a plain client', () => {
  test('is checked when it is opened, edited and closed', async () => {
    const client = await PlainClient.start(new MemoryFiles())
    await client.open('a.nc', good.replace('X20', 'X2..0'))
    const shown = await client.until('a.nc', list => list.length > 0)
    expect(codes(shown)).toContain('syntax/bad-number')
    const { line, character } = shown[0].range.start
    expect(line).toBe(5)
    expect(character).toBe(3)
    await client.change('a.nc', '20', { start: { line: 5, character: 4 }, end: { line: 5, character: 8 } })
    await client.until('a.nc', list => list.length === 0)
    await client.change('a.nc', good.replace('F300', 'F3e'))
    await client.until('a.nc', list => list.length > 0)
    await client.close('a.nc')
    await client.until('a.nc', list => list.length === 0)
    expect(await client.stop()).toBe(true)
    expect(client.log).toEqual([])
  })

  test('never shows what was found in an older version', async () => {
    const client = await PlainClient.start(new MemoryFiles())
    await client.open('a.nc', good)
    for (let i = 0; i < 50; i++) {
      // Each version has its fault on another line, so that a stale finding would be seen.
      void client.change('a.nc', `${'(x)\n'.repeat(i % 7)}${good.replace('X20', `X${i}..`)}`)
    }
    await client.change('a.nc', good)
    await client.until('a.nc', list => list.length === 0)
    for (const { version, diagnostics } of client.published) {
      for (const { range } of diagnostics) expect(range.start.line).toBe(5 + ((version! - 2) % 7))
    }
    expect(await client.stop()).toBe(true)
  })

  test('has columns as the client counts them', async () => {
    const odd = '(dübel 🪵) X1 Y2..2\n'
    const utf16 = await PlainClient.start(new MemoryFiles())
    await utf16.open('a.nc', odd)
    const wide = await utf16.until('a.nc', list => codes(list).includes('syntax/bad-number'))
    const utf8 = await PlainClient.start(new MemoryFiles(), { general: { positionEncodings: ['utf-8', 'utf-16'] } })
    expect(utf8.server.capabilities.positionEncoding).toBe('utf-8')
    await utf8.open('a.nc', odd)
    const bytes = await utf8.until('a.nc', list => codes(list).includes('syntax/bad-number'))
    const at = odd.indexOf('Y2..2')
    const [start16] = wide.filter(d => d.code === 'syntax/bad-number').map(d => d.range.start.character)
    const [start8] = bytes.filter(d => d.code === 'syntax/bad-number').map(d => d.range.start.character)
    expect(start16).toBe(at)
    expect(start8).toBe(Buffer.byteLength(odd.slice(0, at)))
    // An edit in bytes lands at the same word.
    const end = { line: 0, character: start8 + 5 }
    await utf8.change('a.nc', 'Y2.2', { start: { line: 0, character: start8 }, end })
    await utf8.until('a.nc', list => !codes(list).includes('syntax/bad-number'))
    expect([await utf16.stop(), await utf8.stop()]).toEqual([true, true])
  })

  test('is told on demand to a client that pulls', async () => {
    const client = await PlainClient.start(new MemoryFiles(), { textDocument: { diagnostic: {} } })
    expect(client.server.capabilities.diagnosticProvider).toMatchObject({ interFileDependencies: true })
    await client.open('a.nc', good.replace('X20', 'X2..0'))
    const textDocument = { uri: client.uri('a.nc') }
    const first = await client.request<DocumentDiagnosticReport>('textDocument/diagnostic', { textDocument })
    expect(first.kind === 'full' && codes(first.items)).toContain('syntax/bad-number')
    const again = await client.request<DocumentDiagnosticReport>('textDocument/diagnostic', {
      textDocument,
      previousResultId: first.resultId,
    })
    expect(again.kind).toBe('unchanged')
    void client.change('a.nc', good)
    const last = await client.request<DocumentDiagnosticReport>('textDocument/diagnostic', { textDocument })
    expect(last.kind === 'full' && last.items).toEqual([])
    expect(client.published.filter(({ diagnostics }) => diagnostics.length > 0)).toEqual([])
    expect(await client.stop()).toBe(true)
  })

  test('is hovered over: what a word means and where it goes', async () => {
    const client = await PlainClient.start(new MemoryFiles())
    await client.open('a.nc', good)
    const textDocument = { uri: client.uri('a.nc') }
    const hover = await client.request<Hover>('textDocument/hover', {
      textDocument,
      position: { line: 5, character: 1 },
    })
    expect(JSON.stringify(hover.contents)).toMatch(/straight cut.*X20 Y0 Z-1/)
    expect(hover.range).toEqual({ start: { line: 5, character: 0 }, end: { line: 5, character: 2 } })
    expect(await client.request('textDocument/hover', { textDocument, position: { line: 500, character: 1 } })).toBe(
      null,
    )
    expect(await client.stop()).toBe(true)
  })

  test('closed in mid-check or cancelled leaves the server well', async () => {
    const client = await PlainClient.start(new MemoryFiles(), { textDocument: { diagnostic: {} } })
    const long = good + 'G1 X1 F1000\nG1 X20\n'.repeat(20_000)
    void client.open('long.nc', long)
    const source = new CancellationTokenSource()
    const textDocument = { uri: client.uri('long.nc') }
    const asked = client.request<DocumentDiagnosticReport>('textDocument/diagnostic', { textDocument }, source.token)
    source.cancel()
    await expect(asked).rejects.toMatchObject({ code: -32800 })
    const open = client.request<DocumentDiagnosticReport>('textDocument/diagnostic', { textDocument })
    await client.close('long.nc')
    await open
    await client.open('a.nc', good)
    const after = await client.request<DocumentDiagnosticReport>('textDocument/diagnostic', {
      textDocument: { uri: client.uri('a.nc') },
    })
    expect(after.kind).toBe('full')
    expect(await client.stop()).toBe(true)
    expect(client.log).toEqual([])
  })
})
