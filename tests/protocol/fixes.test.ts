import { expect, test } from 'vitest'
import type { CodeAction, TextEdit } from 'vscode-languageserver'
import { edited } from '../../server/src/features/rewrites/source.ts'
import { codes, MemoryFiles, PlainClient } from './plainClient.ts'

const text = `(blank: 60 x 40 x 14 mm, zero near-left face)
(bit 1: flat 6 mm, 2 flutes, cutting length 22, chip load 0.02-0.06)
G90 G17
S16000 M3
G0 Z10
G0 X-5 Y10
Z-2
G1 X65 F4000
G0 Z10
G0 X-5 Y30
Z-2
G1 X65 F5000
G0 Z10
G0 X-5 Y20
Z-2
G1 X65 F1500
G0 Z10
M5
`
const textAfter = (edits: readonly TextEdit[]) =>
  edited(
    text,
    edits.map(({ range, newText }) => ({ range, text: newText })),
  )

async function opened(capabilities = {}) {
  const client = await PlainClient.start(new MemoryFiles(), capabilities)
  await client.open('a.nc', text)
  const shown = await client.until('a.nc', list => codes(list).includes('feed/chip-load-high'))
  return { client, shown }
}

const ask = (client: PlainClient, line: number, only?: string[]) =>
  client.request<CodeAction[]>('textDocument/codeAction', {
    textDocument: { uri: client.uri('a.nc') },
    range: { start: { line, character: 8 }, end: { line, character: 8 } },
    context: { diagnostics: [], only },
  })

test('a fix says in numbers what it does, and does it', async () => {
  const { client } = await opened()
  const [fix] = await ask(client, 7)
  expect(fix).toMatchObject({ title: 'Feed at 1920 mm/min instead of 4000 mm/min', kind: 'quickfix' })
  expect(textAfter(fix.edit!.changes![client.uri('a.nc')])).toBe(text.replace('F4000', 'F1920'))
  expect(await client.stop()).toBe(true)
})

test('all of one kind, where it is found more than once', async () => {
  const { client } = await opened({ textDocument: { codeAction: { resolveSupport: { properties: ['edit'] } } } })
  const actions = await ask(client, 7)
  const all = actions.find(({ title }) => title.startsWith('Fix what can be fixed of all 2'))!
  expect(all.edit).toBeUndefined()
  const { edit } = await client.request<CodeAction>('codeAction/resolve', all)
  expect(textAfter(edit!.changes![client.uri('a.nc')])).toBe(text.replace('F4000', 'F1920').replace('F5000', 'F1920'))
  expect(await client.stop()).toBe(true)
})

test('all that can be fixed, and then nothing is left to fix', async () => {
  const { client, shown } = await opened()
  expect(new Set(codes(shown))).toEqual(new Set(['program/no-units', 'feed/chip-load-high', 'program/no-end']))
  const [all] = await ask(client, 0, ['source.fixAll'])
  expect(all).toMatchObject({ title: 'Fix 4 findings', kind: 'source.fixAll.treen' })
  const after = textAfter(all.edit!.changes![client.uri('a.nc')])
  expect(after).toBe(`${text.replace('F4000', 'F1920').replace('F5000', 'F1920').replace('G90', 'G21\nG90')}M2\n`)
  await client.change('a.nc', after)
  await client.until('a.nc', list => list.length === 0)
  expect(await ask(client, 0, ['source.fixAll'])).toEqual([])
  expect(await client.stop()).toBe(true)
  expect(client.log).toEqual([])
})
