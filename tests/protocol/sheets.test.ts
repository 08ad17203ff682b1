import { describe, expect, test } from 'vitest'
import { CancellationTokenSource } from 'vscode-jsonrpc/node'
import type { CodeAction, CodeLens, CompletionItem, DocumentLink, Hover, TextEdit } from 'vscode-languageserver'
import { positionsOf } from '../../server/src/job/reading/sheetText.ts'
import { DISH_TEXT } from '../features/sheet/bench.ts'
import { disc } from '../job/workedExample.ts'
import { DISH_PROGRAMS } from '../rules/dish.ts'
import { codes, folder, MemoryFiles, PlainClient } from './plainClient.ts'

const name = 'dish.jobsheet.json'
const files = (changes: Record<string, string> = {}) =>
  new MemoryFiles({ [name]: DISH_TEXT, ...DISH_PROGRAMS, ...changes })
const textDocument = { uri: `${folder}/${name}` }

/** The place of some words in the sheet, one character in. */
const at = (words: string, text = DISH_TEXT) => positionsOf(text)(text.indexOf(words) + 1)

describe('a job sheet in a plain client', () => {
  test('is hovered, has figures over its set-ups, and links to its programs', async () => {
    const client = await PlainClient.start(files())
    await client.open(name, DISH_TEXT)
    const lenses = await client.request<CodeLens[]>('textDocument/codeLens', { textDocument })
    expect(lenses.map(({ command }) => command?.command)).toEqual(['', '', '', '', ''])
    expect(lenses.at(-1)?.command?.title).toContain('7.2 mm left at the thinnest')
    const over = async (words: string) => {
      const hover = await client.request<Hover>('textDocument/hover', { textDocument, position: at(words) })
      return JSON.stringify(hover.contents)
    }
    expect(await over('"floor"')).toContain('floor 7.20 mm, worst 6.40')
    expect(await over('"zero"')).toContain('without it 6.60')
    const links = await client.request<DocumentLink[]>('textDocument/documentLink', { textDocument })
    expect(links.map(({ target }) => target)).toEqual(
      ['plug', 'pocket', 'level', 'cavity'].map(program => `${folder}/${program}.nc`),
    )
    expect(await client.stop()).toBe(true)
    expect(client.log).toEqual([])
  })

  test('has its figures asked for again when a program of it is edited', async () => {
    const client = await PlainClient.start(files(), { workspace: { codeLens: { refreshSupport: true } } })
    let tell = () => {}
    client.connection.onRequest('workspace/codeLens/refresh', () => {
      tell()
      return null
    })
    const refreshed = () => new Promise<void>(resolve => (tell = resolve))
    const first = refreshed()
    await client.open(name, DISH_TEXT)
    await client.open('cavity.nc', DISH_PROGRAMS['cavity.nc'])
    await first
    await client.request<CodeLens[]>('textDocument/codeLens', { textDocument })
    const again = refreshed()
    await client.change('cavity.nc', disc(40, 40, 20, 17))
    await again
    const lenses = await client.request<CodeLens[]>('textDocument/codeLens', { textDocument })
    expect(lenses.at(-1)?.command?.title).toContain('17 mm deep')
    expect(await client.stop()).toBe(true)
    expect(client.log).toEqual([])
  })

  test('is hovered while its job is being worked out', async () => {
    const disk = files()
    const client = await PlainClient.start(disk)
    let goOn = () => {}
    disk.held.set(client.uri('cavity.nc'), new Promise(resolve => (goOn = resolve)))
    await client.open(name, DISH_TEXT)
    const hover = await client.request<Hover>('textDocument/hover', { textDocument, position: at('"floor"') })
    expect(JSON.stringify(hover.contents)).toContain('Thinnest floor')
    goOn()
    expect(await client.stop()).toBe(true)
  })

  test('opens the preview from a figure, where the client can', async () => {
    const client = await PlainClient.start(files(), {}, { previews: true })
    await client.open(name, DISH_TEXT)
    const [lens] = await client.request<CodeLens[]>('textDocument/codeLens', { textDocument })
    expect(lens.command).toMatchObject({ command: 'treen.openPreview', arguments: [textDocument.uri] })
    expect(await client.stop()).toBe(true)
  })

  test('is completed, by half as much where the editor knows the schema', async () => {
    const text = DISH_TEXT.replace('"units"', '').replace('"title"', '"units": "",\n  "title"')
    for (const knowsSchema of [false, true]) {
      const client = await PlainClient.start(files(), {}, { knowsSchema })
      await client.open(name, text)
      const complete = async (words: string) => {
        const position = at(words, text)
        const items = await client.request<CompletionItem[]>('textDocument/completion', { textDocument, position })
        return items.map(({ label }) => label)
      }
      expect(await complete('"plug.nc"')).toEqual(['cavity.nc', 'level.nc', 'plug.nc', 'pocket.nc'])
      expect(await complete('"",')).toEqual(knowsSchema ? [] : ['mm', 'inch'])
      expect(await client.stop()).toBe(true)
      expect(client.log).toEqual([])
    }
  })
})

test('a sheet is begun from the programs of a folder, as they are in the editor', async () => {
  const disk = files()
  disk.files.delete(`${folder}/${name}`)
  const client = await PlainClient.start(disk)
  await client.open('cavity.nc', `(10 mm bowl bit, 2 mm corner radius)\n${DISH_PROGRAMS['cavity.nc']}`)
  const begun = await client.request<{ uri: string; text: string }>('treen/beginSheet', { folder })
  expect(begun.uri).toBe(`${folder}/bench.jobsheet.json`)
  expect(begun.text).toContain('"shape": "bowl", "diameter": 10, "cornerRadius": 2')
  expect(begun.text).toContain('{ "plug": "plug", "into": "pocket" }')
  const one = await client.request<{ uri: string; text: string }>('treen/beginSheet', {
    program: client.uri('pocket.nc'),
  })
  expect(one.uri).toBe(`${folder}/pocket.jobsheet.json`)
  expect(await client.request('treen/beginSheet', { folder: `${folder}/none` })).toBeNull()
  expect(await client.stop()).toBe(true)
  expect(client.log).toEqual([])
})

describe('what is found in a job', () => {
  const thin = disc(40, 40, 20, 20)

  test('shows at both ends, once each, and goes from both when it is mended', async () => {
    const client = await PlainClient.start(files({ 'cavity.nc': thin }), {
      textDocument: { publishDiagnostics: { relatedInformation: true } },
    })
    await client.open('cavity.nc', thin)
    const isThin = (code: unknown) => code === 'depth/thin-floor'
    const inProgram = await client.until('cavity.nc', list => codes(list).some(isThin))
    const inSheet = await client.until(name, list => codes(list).some(isThin))
    for (const shown of [inProgram, inSheet]) expect(codes(shown).filter(isThin)).toHaveLength(1)
    const uris = [inProgram, inSheet].map(shown =>
      shown.find(({ code }) => isThin(code))?.relatedInformation?.map(({ location }) => location.uri),
    )
    expect(uris).toEqual([[client.uri(name)], [client.uri('cavity.nc')]])
    await client.change('cavity.nc', DISH_PROGRAMS['cavity.nc'])
    await client.until('cavity.nc', list => !codes(list).some(isThin))
    await client.until(name, list => !codes(list).some(isThin))
    expect(await client.stop()).toBe(true)
    expect(client.log).toEqual([])
  })

  test('is cured from either end, and then is gone', async () => {
    const client = await PlainClient.start(files({ 'cavity.nc': thin }))
    await client.open('cavity.nc', thin)
    await client.open(name, DISH_TEXT)
    const [end] = (await client.until(name, list => codes(list).includes('depth/thin-floor'))).filter(
      ({ code }) => code === 'depth/thin-floor',
    )
    const actions = await client.request<CodeAction[]>('textDocument/codeAction', {
      textDocument,
      range: end.range,
      context: { diagnostics: [end] },
    })
    expect(actions[0].title).toContain('Raise the last level of cavity by 1.6 mm, to Z-18.4')
    expect(actions[0].diagnostics).toEqual([end])
    const edits: TextEdit[] = actions[0].edit?.changes?.[client.uri('cavity.nc')] ?? []
    expect(edits.length).toBeGreaterThan(0)
    for (const { range, newText } of [...edits].reverse()) await client.change('cavity.nc', newText, range)
    await client.until('cavity.nc', list => !codes(list).includes('depth/thin-floor'))
    await client.until(name, list => !codes(list).includes('depth/thin-floor'))
    expect(await client.stop()).toBe(true)
    expect(client.log).toEqual([])
  })

  test('is cured for who still asks after another has given up', async () => {
    const client = await PlainClient.start(files({ 'cavity.nc': thin }))
    await client.open('cavity.nc', thin)
    const shown = await client.until('cavity.nc', list => codes(list).includes('depth/thin-floor'))
    const { range } = shown.find(({ code }) => code === 'depth/thin-floor')!
    const params = { textDocument: { uri: client.uri('cavity.nc') }, range, context: { diagnostics: [] } }
    const givenUp = new CancellationTokenSource()
    const first = client.request<CodeAction[]>('textDocument/codeAction', params, givenUp.token)
    const second = client.request<CodeAction[]>('textDocument/codeAction', params)
    givenUp.cancel()
    await first.catch(({ message }: Error) => expect(message).toContain('cancelled'))
    expect((await second).map(({ title }) => title.split(',')[0])).toEqual([
      'Raise the last level of cavity by 1.6 mm',
      'Raise the last level of cavity by 0.8 mm',
      'Take a blank 1.6 mm thicker: 25.6 mm',
    ])
    expect(await client.stop()).toBe(true)
    expect(client.log).toEqual([])
  })

  test('is cured by the nearest name', async () => {
    const text = DISH_TEXT.replace('"into": "pocket"', '"into": "pokcet"')
    const client = await PlainClient.start(files({ [name]: text }))
    await client.open(name, text)
    await client.until(name, list => codes(list).includes('sheet/unknown-setup'))
    const start = at('"pokcet"', text)
    const actions = await client.request<CodeAction[]>('textDocument/codeAction', {
      textDocument,
      range: { start, end: start },
      context: { diagnostics: [] },
    })
    expect(actions.map(({ title }) => title)).toEqual(['Write "pocket" here'])
    expect(await client.stop()).toBe(true)
    expect(client.log).toEqual([])
  })
})
