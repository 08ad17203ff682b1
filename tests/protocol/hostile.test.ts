import { describe, expect, it } from 'vitest'
import type { Hover, MarkupContent } from 'vscode-languageserver'
import type { SetupSheetResult } from '../../server/src/features/editorMessages.ts'
import { SMALL_PROGRAMS, SMALL_SHEET } from '../job/workedExample.ts'
import { codes, folder, MemoryFiles, PlainClient } from './plainClient.ts'

/** Sheets and programs that were written to do harm, or only oddly. */

const name = 'a.jobsheet.json'
const markup = `<img src=x onerror=alert(1)>"'&</script>`

describe('a sheet', () => {
  it('with names of what every object has takes nothing else with it', async () => {
    const text = JSON.stringify(SMALL_SHEET)
      .replace('{', '{ "__proto__": { "polluted": 1 }, "constructor": { "prototype": { "polluted": 1 } }, ')
      .replace('"blanks":{', '"blanks":{ "__proto__": { "size": [1, 2, 3], "material": "maple" },')
      .replace('"bits":{', '"bits":{ "__proto__": { "shape": "flat", "diameter": 6 },')
    const client = await PlainClient.start(new MemoryFiles({ ...SMALL_PROGRAMS, [name]: text }))
    await client.open(name, text)
    const shown = await client.until(name, list => list.length > 0)
    expect(codes(shown).every(code => code.startsWith('sheet/'))).toBe(true)
    expect(codes(shown)).toContain('sheet/unknown-field')
    expect(({} as { polluted?: number }).polluted).toBe(undefined)
    expect(await client.stop()).toBe(true)
    expect(client.log).toEqual([])
  })

  it('with markup in its names gives it back as text', async () => {
    const sheet = structuredClone(SMALL_SHEET)
    sheet.title = markup
    for (const setup of sheet.setups) if (setup.name === 'cavity') setup.name = markup
    const text = JSON.stringify(sheet)
    const client = await PlainClient.start(new MemoryFiles({ ...SMALL_PROGRAMS, [name]: text }))
    await client.open(name, text)
    const result = await client.request<SetupSheetResult>('treen/setupSheet', { uri: client.uri(name), nonce: 'n' })
    const page = 'page' in result ? result.page : ''
    expect(page).toMatch(/(&lt;|&#60;)img src=x/)
    expect(page).not.toMatch(/<img|<script/)
    expect(await client.stop()).toBe(true)
  })

  it('may name programs with quotes, blanks and signs in their names', async () => {
    const odd = `it's 100% "odd" & <b> #1.nc`
    const sheet = structuredClone(SMALL_SHEET)
    for (const setup of sheet.setups) if ('program' in setup && setup.program === 'cavity.nc') setup.program = odd
    const disk = new MemoryFiles({ ...SMALL_PROGRAMS, [name]: JSON.stringify(sheet) })
    disk.files.delete(`${folder}/cavity.nc`)
    const uri = `${folder}/${encodeURIComponent(odd).replace("'", '%27')}`
    disk.files.set(uri, SMALL_PROGRAMS['cavity.nc'])
    const client = await PlainClient.start(disk)
    await client.open(name, JSON.stringify(sheet))
    await client.request('treen/preview', { uri: client.uri(name), copy: '' })
    expect(codes(client.shown.get(client.uri(name)) ?? [])).not.toContain('sheet/missing-file')
    expect(await client.stop()).toBe(true)
  })
})

describe('a comment', () => {
  it('with markup or commands in it is no part of what a hover shows as such', async () => {
    const client = await PlainClient.start(new MemoryFiles())
    const text = `(blank: 60 x 40 x 12 mm, zero near-left face)\n(bit 1: flat 6 mm, 2 flutes) ([x](command:y) ${markup})\nG21 G90 T1\nG1 X1 F100\n`
    await client.open('a.nc', text)
    for (const position of [
      { line: 1, character: 40 },
      { line: 2, character: 9 },
      { line: 3, character: 4 },
    ]) {
      const hover = await client.request<Hover | null>('textDocument/hover', {
        textDocument: { uri: client.uri('a.nc') },
        position,
      })
      // With a backslash before it, a sign is itself in Markdown.
      const value = (hover?.contents as MarkupContent | undefined)?.value ?? ''
      expect(value).not.toMatch(/(?<!\\)<img|(?<!\\)\]\(command:/)
    }
    expect(await client.stop()).toBe(true)
  })
})
