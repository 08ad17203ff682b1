import { describe, expect, test } from 'vitest'
import type { CodeAction, TextEdit } from 'vscode-languageserver'
import type { RewriteResult } from '../../server/src/features/editorMessages.ts'
import { edited } from '../../server/src/features/rewrites/source.ts'
import { MemoryFiles, PlainClient } from './plainClient.ts'

const text = `(blank: 60 x 40 x 14 mm, zero near-left face)
(bit 1: flat 6 mm, 2 flutes, cutting length 22, chip load 0.02-0.12)
G21 G90 G17
S16000 M3
G0 Z10
G0 X-5 Y20
Z-2
G1 X65  F800
X-5 (nothing but air)
G0 Z10
M5
M2
`
const all = { start: { line: 0, character: 0 }, end: { line: 12, character: 0 } }
const lines = (first: number, last: number) => ({
  start: { line: first, character: 0 },
  end: { line: last + 1, character: 0 },
})
const textAfter = (edits: readonly TextEdit[]) =>
  edited(
    text,
    edits.map(({ range, newText }) => ({ range, text: newText })),
  )

/** An editor that asks for the edit of the action that is chosen. */
const resolving = { textDocument: { codeAction: { resolveSupport: { properties: ['edit'] } } } }

async function opened(capabilities = {}, options = {}) {
  const client = await PlainClient.start(new MemoryFiles(), capabilities, options)
  await client.open('a.nc', text)
  return client
}

const rewritten = (client: PlainClient, rewrite: string, answer: string, range?: object) =>
  client.request<RewriteResult>('treen/rewrite', { uri: client.uri('a.nc'), rewrite, answer, range })

const actionsAt = (client: PlainClient, range: object, only?: string[]) =>
  client.request<CodeAction[]>('textDocument/codeAction', {
    textDocument: { uri: client.uri('a.nc') },
    range,
    context: { diagnostics: [], only },
  })

describe('rewrites in a plain client', () => {
  test.each([
    { only: ['refactor.rewrite'], kinds: /^refactor\.rewrite\./, most: 100 },
    { only: ['refactor.rewrite.toInch'], kinds: /^refactor\.rewrite\.toInch$/, most: 1 },
    { only: ['quickfix'], kinds: /^quickfix/, most: 100 },
    { only: ['refactor.rewri'], kinds: /^$/, most: 0 },
  ])('and no other actions come for who asks for $only', async ({ only, kinds, most }) => {
    const client = await opened(resolving)
    const actions = await actionsAt(client, all, only)
    for (const { kind } of actions) expect(kind).toMatch(kinds)
    expect(actions.length).toBeLessThanOrEqual(most)
    if (most > 0 && only[0] !== 'quickfix') expect(actions.length).toBeGreaterThan(0)
    await client.stop()
  })

  test('are offered for lines that are chosen, worked out when one is taken, and leave the text to the editor', async () => {
    const client = await opened(resolving)
    expect(await actionsAt(client, { start: all.start, end: all.start })).toEqual([])
    const actions = (await actionsAt(client, all)).filter(({ kind }) => kind?.startsWith('refactor.rewrite'))
    expect(actions.map(({ title }) => title)).toContain('Write in inches (G20)')
    expect(actions.every(({ edit, command }) => !edit && !command)).toBe(true)
    const chosen = actions.find(({ title }) => title === 'Mirror left to right')!
    const { edit } = await client.request<CodeAction>('codeAction/resolve', chosen)
    expect(textAfter(Object.values(edit!.changes!)[0])).toBe(
      text.replace('X-5 Y20', 'X65 Y20').replace('X65  F', 'X-5  F').replace('X-5 (', 'X65 ('),
    )
    expect(await client.stop()).toBe(true)
  })

  test('are offered with their edits to an editor that asks for refactorings and cannot ask again', async () => {
    const client = await opened()
    const actions = await actionsAt(client, all, ['refactor'])
    const turned = actions.find(({ title }) => title === 'Write in inches (G20)')!
    expect(textAfter(turned.edit!.changes![client.uri('a.nc')])).toContain(
      'G0 X-0.19685 Y0.7874\nZ-0.07874\nG1 X2.55906  F31.5',
    )
    // What must be asked is not offered to who cannot be asked.
    expect(actions.map(({ title }) => title)).not.toContain('Shift')
    expect(await client.stop()).toBe(true)
  })

  test('have a command of their own where our client can ask', async () => {
    const client = await opened({}, { asks: true })
    const shift = (await actionsAt(client, lines(5, 7))).find(({ title }) => title === 'Shift …')!
    expect(shift.command).toEqual({
      title: 'Shift',
      command: 'treen.rewrite',
      arguments: ['shift', client.uri('a.nc'), lines(5, 7)],
    })
    const result = await rewritten(client, 'shift', '2.5, 0', lines(5, 7))
    expect('edits' in result && textAfter(result.edits)).toBe(
      text.replace('X-5 Y20', 'X-2.5 Y20').replace('X65', 'X67.5'),
    )
    expect(await client.stop()).toBe(true)
  })

  test('say why not', async () => {
    const client = await opened()
    expect(await rewritten(client, 'shift', 'far')).toEqual({ why: expect.stringContaining('Write plain numbers') })
    expect(await rewritten(client, 'shift', '1')).toEqual({ why: 'Write 2 numbers or 3 numbers.' })
    expect(await rewritten(client, 'toMm', '')).toEqual({ why: 'There is nothing to change in these lines.' })
    expect(await rewritten(client, 'none', '')).toEqual({ why: 'There is no such rewrite.' })
    expect(await client.stop()).toBe(true)
  })

  test('know the bits and the wood of the job', async () => {
    const client = await opened()
    const fed = await rewritten(client, 'feedForChip', '0.06')
    // 0.06 x 2 x 16000, by a pencil.
    expect('edits' in fed && textAfter(fed.edits)).toBe(text.replace('F800', 'F1920'))
    const air = await rewritten(client, 'withoutAir', '')
    expect('why' in air && air.why).toBe('There is nothing to change in these lines.')
    await client.change('a.nc', text.replace('X-5 (nothing but air)', 'X-5'))
    const over = await rewritten(client, 'withoutAir', '')
    expect(over).toMatchObject({ version: 2, notes: ['70 mm at feed through air become rapids.'] })
    expect('edits' in over && over.edits.map(({ newText }) => newText).join('')).toBe('G0 Z10\nX-5 Y20\n')
    expect(await client.stop()).toBe(true)
  })
})

test('spacing is tidied on request, all of it or some', async () => {
  const client = await opened()
  const textDocument = { uri: client.uri('a.nc') }
  const options = { tabSize: 2, insertSpaces: true }
  const whole = await client.request<TextEdit[]>('textDocument/formatting', { textDocument, options })
  expect(textAfter(whole)).toBe(text.replace('X65  F800', 'X65 F800'))
  const some = await client.request<TextEdit[]>('textDocument/rangeFormatting', {
    textDocument,
    options,
    range: lines(0, 6),
  })
  expect(some).toEqual([])
  expect(await client.stop()).toBe(true)
  expect(client.log).toEqual([])
})
