import { describe, expect, test } from 'vitest'
import type {
  DocumentHighlight,
  DocumentSymbol,
  FoldingRange,
  Location,
  Position,
  Range,
  SelectionRange,
  SemanticTokens,
  SymbolInformation,
  WorkspaceEdit,
} from 'vscode-languageserver'
import { MemoryFiles, PlainClient } from './plainClient.ts'

const program = [
  '(🪵 slot)',
  'G21 G90 F900',
  '#<depth>=2 (🪵) #5=[#<depth>*2]',
  'o100 sub',
  'G1 X10 Z[0-#<depth>]',
  'o100 endsub',
  'G0 X0 Y0 Z5',
  'o100 call',
  'M2',
].join('\n')

async function opened(encodings: string[] = [], text = program, capabilities = {}) {
  const general = encodings.length > 0 ? { positionEncodings: encodings } : undefined
  const client = await PlainClient.start(new MemoryFiles(), { general, ...capabilities })
  await client.open('a.nc', text)
  const textDocument = { uri: client.uri('a.nc') }
  return {
    client,
    ask: <T>(method: string, params: object = {}) =>
      client.request<T>(`textDocument/${method}`, { textDocument, ...params }),
  }
}

/** The words that ranges cover, by the columns of either encoding. */
function words(ranges: readonly Range[], bytes = false, text = program): string[] {
  const lines = text.split('\n')
  return ranges.map(({ start, end }) => {
    if (start.line !== end.line) return `lines ${start.line} to ${end.line}`
    return bytes
      ? Buffer.from(lines[start.line]).subarray(start.character, end.character).toString()
      : lines[start.line].slice(start.character, end.character)
  })
}

describe('the language in a plain client', () => {
  test('is announced', async () => {
    const { client } = await opened()
    expect(client.server.capabilities).toMatchObject({
      semanticTokensProvider: { range: true, full: true },
      documentSymbolProvider: true,
      foldingRangeProvider: true,
      selectionRangeProvider: true,
      definitionProvider: true,
      referencesProvider: true,
      renameProvider: { prepareProvider: true },
      documentHighlightProvider: true,
    })
    expect(await client.stop()).toBe(true)
  })

  test.each([['utf-16'], ['utf-8']])('is coloured in %s columns, whole or in part', async encoding => {
    const { client, ask } = await opened([encoding])
    const { tokenTypes, tokenModifiers } = client.server.capabilities.semanticTokensProvider!.legend
    const read = ({ data }: SemanticTokens) => {
      let line = 0
      let column = 0
      const found: string[] = []
      for (let i = 0; i < data.length; i += 5) {
        if (data[i] > 0) column = 0
        line += data[i]
        column += data[i + 1]
        const range = { start: { line, character: column }, end: { line, character: column + data[i + 2] } }
        const modifiers = tokenModifiers.filter((_, bit) => data[i + 4] & (1 << bit))
        found.push(
          `${line} ${words([range], encoding === 'utf-8')[0]} ${[tokenTypes[data[i + 3]], ...modifiers].join('.')}`,
        )
      }
      return found
    }
    const all = read(await ask<SemanticTokens>('semanticTokens/full'))
    expect(all).toContain('0 (🪵 slot) comment')
    expect(all.filter(token => token.startsWith('2 '))).toEqual([
      '2 #<depth> variable.modification',
      '2 = operator',
      '2 2 number',
      '2 (🪵) comment',
      '2 #5 variable.modification',
      '2 = operator',
      '2 #<depth> variable',
      '2 * operator',
      '2 2 number',
    ])
    const range = { start: { line: 2, character: 3 }, end: { line: 3, character: 0 } }
    expect(read(await ask<SemanticTokens>('semanticTokens/range', { range }))).toEqual(
      all.filter(token => /^[23] /.test(token)),
    )
    expect(await client.stop()).toBe(true)
    expect(client.log).toEqual([])
  })

  test.each([['utf-16'], ['utf-8']])('leads to definitions and uses, and renames, in %s columns', async encoding => {
    const { client, ask } = await opened([encoding])
    const bytes = encoding === 'utf-8'
    const line = program.split('\n')[2]
    const before = line.slice(0, line.lastIndexOf('#<depth>') + 3)
    const position: Position = { line: 2, character: bytes ? Buffer.byteLength(before) : before.length }
    const [definition] = await ask<Location[]>('definition', { position: { line: 4, character: 14 } })
    expect(definition.uri).toBe(client.uri('a.nc'))
    const uses = await ask<Location[]>('references', { position, context: { includeDeclaration: true } })
    // The #<depth> of the subprogram is another: nothing sets it there.
    expect(
      words(
        uses.map(use => use.range),
        bytes,
      ),
    ).toEqual(['#<depth>', '#<depth>'])
    const highlights = await ask<DocumentHighlight[]>('documentHighlight', { position })
    expect(highlights.map(({ kind }) => kind)).toEqual([3, 2])
    expect(await ask('prepareRename', { position })).toMatchObject({ placeholder: '#<depth>' })
    const edit = await ask<WorkspaceEdit>('rename', { position, newName: 'deep' })
    const edits = edit.changes![client.uri('a.nc')]
    expect(
      words(
        edits.map(each => each.range),
        bytes,
      ),
    ).toEqual(['#<depth>', '#<depth>'])
    expect(edits.map(each => each.newText)).toEqual(['#<deep>', '#<deep>'])
    await expect(ask('rename', { position, newName: '<' })).rejects.toMatchObject({
      code: -32803,
      message: expect.stringContaining('letters, digits'),
    })
    expect(await ask('prepareRename', { position: { line: 6, character: 0 } })).toBe(null)
    expect(await client.stop()).toBe(true)
    expect(client.log).toEqual([])
  })

  test('has an outline, nested or flat as the client can show it', async () => {
    const nested = await opened([], program, {
      textDocument: { documentSymbol: { hierarchicalDocumentSymbolSupport: true } },
    })
    const symbols = await nested.ask<DocumentSymbol[]>('documentSymbol')
    const names = (list: DocumentSymbol[]): unknown[] =>
      list.map(({ name, children }) => (children && children.length > 0 ? [name, names(children)] : name))
    expect(names(symbols)).toEqual([['🪵 slot', ['#<depth>', '#5', 'O100']]])
    const flat = await opened()
    const list = await flat.ask<SymbolInformation[]>('documentSymbol')
    expect(list.map(({ name, containerName }) => [name, containerName])).toEqual([
      ['🪵 slot', undefined],
      ['#<depth>', '🪵 slot'],
      ['#5', '🪵 slot'],
      ['O100', '🪵 slot'],
    ])
    expect([await nested.client.stop(), await flat.client.stop()]).toEqual([true, true])
  })

  test('folds, and selections grow', async () => {
    const { client, ask } = await opened(['utf-8'])
    const folds = await ask<FoldingRange[]>('foldingRange')
    expect(folds.map(({ startLine, endLine, kind }) => [startLine, endLine, kind])).toEqual([
      [0, 8, 'region'],
      [3, 5, 'region'],
    ])
    const [selection] = await ask<SelectionRange[]>('selectionRange', { positions: [{ line: 4, character: 4 }] })
    const chain: Range[] = []
    for (let at: SelectionRange | undefined = selection; at; at = at.parent) chain.push(at.range)
    expect(words(chain, true)).toEqual(['10', 'X10', 'G1 X10 Z[0-#<depth>]', 'lines 3 to 5', 'lines 0 to 8'])
    expect(await client.stop()).toBe(true)
  })

  test('follows the edits, at once', async () => {
    const { client, ask } = await opened()
    const position = { line: 6, character: 1 }
    const lines = async () =>
      (await ask<DocumentHighlight[]>('documentHighlight', { position })).map(({ range }) => range.start.line)
    expect(await lines()).toEqual([1, 1, 1, 6])
    void client.change('a.nc', '(x)\n', { start: { line: 6, character: 0 }, end: { line: 6, character: 0 } })
    position.line = 7
    expect(await lines()).toEqual([1, 1, 1, 7])
    void client.change('a.nc', '')
    expect(await lines()).toEqual([])
    expect(await client.stop()).toBe(true)
    expect(client.log).toEqual([])
  })

  test('of a long program is coloured where it is looked at', async () => {
    const { client, ask } = await opened([], 'G1 X1\n'.repeat(30_000))
    expect(await ask('semanticTokens/full')).toBe(null)
    const range = { start: { line: 29_000, character: 0 }, end: { line: 29_010, character: 0 } }
    const { data } = await ask<SemanticTokens>('semanticTokens/range', { range })
    expect(data).toHaveLength(11 * 3 * 5)
    expect(data.slice(0, 5)).toEqual([29_000, 0, 2, 0, 2])
    expect(await client.stop()).toBe(true)
  })

  test('has no answers for sheets and for texts that are not open', async () => {
    const { client } = await opened()
    await client.open('job.jobsheet.json', '{ "units": "mm" }')
    for (const name of ['job.jobsheet.json', 'nowhere.nc']) {
      const textDocument = { uri: client.uri(name) }
      const position = { line: 0, character: 3 }
      const asked = {
        textDocument,
        position,
        context: { includeDeclaration: true },
        newName: 'x',
        positions: [position],
      }
      for (const method of [
        'references',
        'documentHighlight',
        'rename',
        'prepareRename',
        'foldingRange',
        'selectionRange',
      ]) {
        expect(await client.request(`textDocument/${method}`, asked)).toBe(null)
      }
      expect(await client.request('textDocument/semanticTokens/full', { textDocument })).toEqual({ data: [] })
    }
    expect(await client.stop()).toBe(true)
    expect(client.log).toEqual([])
  })
})
