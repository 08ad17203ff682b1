import { describe, expect, test } from 'vitest'
import type { CodeAction, Hover } from 'vscode-languageserver'
import { codes, MemoryFiles, PlainClient } from './plainClient.ts'

const sheet = `{
  // a board with a groove, and a second program that travels along it
  "bits": { "1": { "shape": "flat", "diameter": 6, "cuttingLength": 20, "chipLoad": [0.01, 0.2] } },
  "limits": { "floor": 1, "wall": 0.5 },
  "blanks": { "board": { "size": [60, 40, 14], "material": "maple" } },
  "setups": [
    { "name": "groove", "blank": "board", "program": "groove.nc", "makes": "other" },
    { "name": "travel", "blank": "board", "program": "travel.nc", "makes": "other" },
  ],
}
`
const start = 'G21 G90 G17\nS16000 M3\nG0 Z10\n'
const end = 'G0 Z10\nM5\nM2\n'
const groove = (depth: number) => `${start}G0 X-5 Y20\nG0 Z${-depth}\nG1 X65 F800\n${end}`
const travel = `${start}G0 X-5 Y20\nG0 Z-2\nG0 X65\n${end}`
const files = () => new MemoryFiles({ 'board.jobsheet.json': sheet, 'groove.nc': groove(3), 'travel.nc': travel })

/** A file that is not open changes on the disk, and the editor tells of it. */
async function writeOutside(client: PlainClient, disk: MemoryFiles, name: string, text: string): Promise<void> {
  disk.files.set(client.uri(name), text)
  const changes = [{ uri: client.uri(name), type: 2 }]
  await client.connection.sendNotification('workspace/didChangeWatchedFiles', { changes })
}

describe('a job in a plain client', () => {
  test('is checked with what is open and unsaved in two of its programs', async () => {
    const client = await PlainClient.start(files())
    await client.open('travel.nc', travel)
    await client.open('groove.nc', groove(3))
    // The groove is deep enough to travel in; made shallow in the editor alone, it is not.
    await client.change('groove.nc', groove(1))
    const shown = await client.until('travel.nc', list => codes(list).includes('motion/rapid-through-stock'))
    const found = shown.find(({ code }) => code === 'motion/rapid-through-stock')!
    expect(found.range).toEqual({ start: { line: 5, character: 0 }, end: { line: 5, character: 2 } })
    await client.change('groove.nc', groove(3))
    await client.until('travel.nc', list => !codes(list).includes('motion/rapid-through-stock'))
    // The other way round: the traveller goes deeper, and it is its own finding.
    await client.change('travel.nc', travel.replace('Z-2', 'Z-4'))
    await client.until('travel.nc', list => codes(list).includes('motion/rapid-through-stock'))
    expect(await client.stop()).toBe(true)
    expect(client.log).toEqual([])
  })

  test('shows what an edit does to a program that is not open, and takes it back when all are closed', async () => {
    const client = await PlainClient.start(files())
    await client.open('groove.nc', groove(1))
    await client.until('travel.nc', list => codes(list).includes('motion/rapid-through-stock'))
    await client.close('groove.nc')
    await client.until('travel.nc', list => list.length === 0)
    expect(await client.stop()).toBe(true)
  })

  test('of which a file is deleted while open goes on with the text of the editor, then says that it is missing', async () => {
    const disk = files()
    const client = await PlainClient.start(disk)
    await client.open('board.jobsheet.json', sheet)
    await client.open('travel.nc', travel)
    disk.files.delete(client.uri('travel.nc'))
    const changes = [{ uri: client.uri('travel.nc'), type: 3 }]
    await client.connection.sendNotification('workspace/didChangeWatchedFiles', { changes })
    await client.change('travel.nc', travel.replace('Z-2', 'Z-4'))
    await client.until('travel.nc', list => codes(list).includes('motion/rapid-through-stock'))
    await client.close('travel.nc')
    const shown = await client.until('board.jobsheet.json', list => codes(list).includes('sheet/missing-file'))
    const at = shown.find(({ code }) => code === 'sheet/missing-file')!.range.start
    expect(sheet.split('\n')[at.line]).toContain('travel.nc')
    expect(await client.stop()).toBe(true)
  })

  test('is checked again when a program that is not open is written anew on the disk', async () => {
    const disk = files()
    const client = await PlainClient.start(disk)
    await client.open('groove.nc', groove(1))
    await client.until('travel.nc', list => codes(list).includes('motion/rapid-through-stock'))
    await writeOutside(client, disk, 'travel.nc', travel.replace('Z-2', 'Z5'))
    await client.until('travel.nc', list => list.length === 0)
    await writeOutside(client, disk, 'travel.nc', travel)
    await client.until('travel.nc', list => codes(list).includes('motion/rapid-through-stock'))
    expect(await client.stop()).toBe(true)
  })

  test('takes back what it found in a program that is not open when the sheet on the disk names it no more', async () => {
    const disk = files()
    const client = await PlainClient.start(disk)
    await client.open('groove.nc', groove(1))
    await client.until('travel.nc', list => codes(list).includes('motion/rapid-through-stock'))
    await writeOutside(client, disk, 'board.jobsheet.json', sheet.replace(/ *\{ "name": "travel".*\n/, ''))
    await client.until('travel.nc', list => list.length === 0)
    expect(await client.stop()).toBe(true)
  })

  test('survives its sheet being typed, at every keystroke', async () => {
    const client = await PlainClient.start(files())
    await client.open('board.jobsheet.json', '')
    for (let length = 1; length <= sheet.length; length++) {
      await client.change('board.jobsheet.json', sheet.slice(0, length))
      // One in eight is waited for, so that many half texts are checked to the end and others are cut off.
      if (length % 8 === 0 && length < sheet.length - 4) {
        await client.until('board.jobsheet.json', list => list.length > 0)
      }
    }
    await client.until('board.jobsheet.json', list => list.length === 0)
    expect(await client.stop()).toBe(true)
    expect(client.log).toEqual([])
  })

  test('shows progress while it takes long, and ends it', async () => {
    const disk = files()
    const client = await PlainClient.start(disk, { window: { workDoneProgress: true } })
    let goOn = () => {}
    disk.held.set(client.uri('travel.nc'), new Promise(resolve => (goOn = resolve)))
    await client.open('groove.nc', groove(1))
    while (!client.progress.includes('begin')) await client.next()
    goOn()
    await client.until('travel.nc', list => list.length > 0)
    while (!client.progress.includes('end')) await client.next()
    expect(client.progress).toEqual(['begin', 'end'])
    expect(await client.stop()).toBe(true)
  })

  test('shows none for what is quick', async () => {
    const client = await PlainClient.start(new MemoryFiles(), { window: { workDoneProgress: true } })
    await client.open('a.nc', `${start}G1 X1..\n`)
    await client.until('a.nc', list => list.length > 0)
    expect(client.progress).toEqual([])
    expect(await client.stop()).toBe(true)
  })
})

describe('a program that no sheet names', () => {
  test('may have its blank declared, or a sheet begun', async () => {
    const client = await PlainClient.start(new MemoryFiles(), {
      workspace: { workspaceEdit: { documentChanges: true, resourceOperations: ['create'] } },
    })
    const text = groove(3)
    await client.open('groove.nc', text)
    const range = { start: { line: 0, character: 0 }, end: { line: 0, character: 0 } }
    const textDocument = { uri: client.uri('groove.nc') }
    const offered = await client.request<CodeAction[]>('textDocument/codeAction', {
      textDocument,
      range,
      context: { diagnostics: [] },
    })
    const titles = offered.map(({ title }) => title)
    expect(titles).toEqual(['Begin a job sheet for this program', 'Declare the blank in a comment'])
    const comment = offered[1].edit!.documentChanges![0]
    const declared = 'edits' in comment && 'newText' in comment.edits[0] ? comment.edits[0].newText : ''
    expect(declared).toBe('(blank: 70 x 20 x 7 mm, zero near-left face)\n')
    // Treen itself reads what it offered: the wood is there, and the next offer is not made.
    await client.change('groove.nc', declared + text)
    const again = { textDocument, range, context: { diagnostics: [] } }
    expect(await client.request<CodeAction[]>('textDocument/codeAction', again)).toEqual([])
    const hover = await client.request<Hover>('textDocument/hover', {
      textDocument,
      position: { line: 6, character: 1 },
    })
    expect(JSON.stringify(hover.contents)).toContain('3 mm under the face')
    expect(await client.stop()).toBe(true)
  })
})

describe('what is no good program', () => {
  test('a binary file is left alone', async () => {
    const disk = files()
    disk.files.set(
      'file:///bench/groove.nc',
      Uint8Array.from({ length: 5000 }, (_, i) => (i * 7919) % 251),
    )
    const client = await PlainClient.start(disk)
    await client.open('groove.nc', '\u0000\u0001\u0002GIF89a\u0000')
    await client.until('groove.nc', () => true)
    expect(await client.stop()).toBe(true)
    expect(client.log).toEqual([])
  })

  test('markup in comments stays text', async () => {
    const client = await PlainClient.start(new MemoryFiles())
    await client.open('a.nc', `(<img src=x> [x](command:y) **b**\nG1 X1..2 (<b>)\n${groove(1)}`)
    const shown = await client.until('a.nc', list => list.length > 0)
    expect(codes(shown)).toContain('syntax/bad-number')
    expect(await client.stop()).toBe(true)
  })

  test('50 MB of text leave the server alive, with few messages', async () => {
    const client = await PlainClient.start(new MemoryFiles())
    const line = 'G1 X12.345 Y67.890 Z-1.2 F1200\n'
    await client.open('long.nc', start + line.repeat(Math.floor(50e6 / line.length)))
    const shown = await client.until('long.nc', () => true)
    expect(shown.length).toBeLessThan(10)
    await client.open('a.nc', groove(1).replace('X65', 'X6..5'))
    await client.until('a.nc', list => codes(list).includes('syntax/bad-number'))
    expect(await client.stop()).toBe(true)
    expect(client.log).toEqual([])
  }, 200_000)
})
