import { describe, expect, test } from 'vitest'
import { completionsAt } from '../../../server/src/features/sheet/completion.ts'
import { memoryWorkspace } from '../../job/memoryWorkspace.ts'
import { caret, DISH_TEXT, SHEET_URI } from './bench.ts'

const disk = memoryWorkspace({ 'plug.nc': '', 'b.NGC': '', 'notes.md': '', 'job.jobsheet.json': '', 'old/x.nc': '' })

async function offered(marked: string, namesOnly = false): Promise<string[]> {
  const { text, at } = caret(marked)
  return (await completionsAt(disk, { uri: SHEET_URI, text }, at, { namesOnly })).map(({ label }) => label)
}

/** The text with what is at the caret replaced by the offer of that label. */
async function taken(marked: string, label: string): Promise<string> {
  const { text, at } = caret(marked)
  const found = (await completionsAt(disk, { uri: SHEET_URI, text }, at, { namesOnly: false })).find(
    each => each.label === label,
  )
  if (!found) throw new Error(`${label} is not offered`)
  const { start, end } = found.range
  return text.slice(0, start.character) + found.text + text.slice(end.character)
}

const setup = (inner: string) => DISH_TEXT.replace('"setups": [', `"setups": [{ ${inner} },`)

describe('names', () => {
  test('of what the sheet itself names', async () => {
    for (const namesOnly of [true, false]) {
      expect(await offered(setup('"blank": "|"'), namesOnly)).toEqual(['dish', 'plugs'])
      expect(await offered(setup('"blank": |'), namesOnly)).toEqual(['dish', 'plugs'])
      expect(await offered(setup('"bit": "|"'), namesOnly)).toEqual(['1'])
      expect(await offered(setup('"insert": { "plug": "|" }'), namesOnly)).toEqual(['plug'])
      expect(await offered(setup('"insert": { "into": "|" }'), namesOnly)).toEqual(['pocket'])
    }
    const clamp = DISH_TEXT.replace('"setups"', '"keepOut": [{ "setup": "|" }], "setups"')
    expect(await offered(clamp)).toEqual(['plug', 'pocket', 'glue', 'level', 'cavity'])
  })

  test('of copies, of materials, of the programs beside the sheet', async () => {
    const copies = setup('"copies": ["|"]')
      .replace('"grain"', '')
      .replace('"size": [80', '"copies": { "B": {} }, "size": [80')
    expect(await offered(copies)).toEqual(['B'])
    expect(await offered(setup('"program": "|"'), true)).toEqual(['b.NGC', 'plug.nc'])
    expect(await offered('{ "blanks": { "a": { "material": "|" } } }', true)).toContain('walnut, black')
  })

  test('replace the whole of what is written, closed or not', async () => {
    expect(await taken('{ "blanks": { "a": { "material": "wal|nut" } } }', 'walnut, black')).toBe(
      '{ "blanks": { "a": { "material": "walnut, black" } } }',
    )
    expect(await taken('{ "blanks": { "a": { "material": "wal|', 'walnut, black')).toBe(
      '{ "blanks": { "a": { "material": "walnut, black"',
    )
  })
})

describe('what the schema knows', () => {
  test('is offered where the editor does not know it', async () => {
    expect(await offered('{ "units": "|" }')).toEqual(['mm', 'inch'])
    expect(await offered('{ "setups": [{ "makes": | }] }')).toContain('cavity')
    expect(await offered('{ "setups": [{ "spin": | }] }')).toEqual(['0', '90', '180', '270'])
    expect(await offered('{ "units": "mm", "|" }')).toEqual(expect.arrayContaining(['limits', 'setups', 'title']))
    expect(await offered('{ "units": "mm", "|" }')).not.toContain('units')
  })

  test('and not where it does', async () => {
    for (const marked of ['{ "units": "|" }', '{ "|" }', '{ "setups": [{ "makes": | }] }']) {
      expect(await offered(marked, true)).toEqual([])
    }
  })

  test('carries its description, and writes a field with the beginning of its value', async () => {
    const { text, at } = caret('{ "limits": { "|" } }')
    const found = await completionsAt(disk, { uri: SHEET_URI, text }, at, { namesOnly: false })
    expect(found.find(({ label }) => label === 'floor')?.about).toContain('Thinnest floor left under a cavity')
    expect(await taken('{ "|" }', 'setups')).toBe('{ "setups": [] }')
    expect(await taken('{ "|": 3 }', 'setups')).toBe('{ "setups": 3 }')
    expect(await taken('{ "limits": { | } }', 'floor')).toBe('{ "limits": { "floor":  } }')
  })

  test('nothing is offered in a comment, and no text is too broken', async () => {
    expect(await offered('{ // |\n}')).toEqual([])
    for (let length = 0; length < DISH_TEXT.length; length += 7) {
      await offered(`${DISH_TEXT.slice(0, length).replaceAll('|', '')}|`)
    }
    expect(await offered(`${'['.repeat(50_000)}|`)).toEqual([])
  })
})
