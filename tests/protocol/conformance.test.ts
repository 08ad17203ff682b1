import fc from 'fast-check'
import { afterEach, describe, expect, it } from 'vitest'
import type { PositionEncodingKind } from 'vscode-languageserver'
import { MemoryFiles, PlainClient } from './plainClient.ts'
import { framed, StdioServer } from './stdioServer.ts'

/** LSP 3.17 and JSON-RPC 2.0 by the letter, with the shipped server as a process and bytes on its standard input. */

const uri = 'file:///bench/a.nc'
const textDocument = { uri }
const position = { line: 0, character: 1 }
const good = 'G21 G90 G17\nS16000 M3\nG0 Z5\nG0 X0 Y0\nG1 Z-1 F300\nG1 X20 F1200\nG0 Z5\nM5\nM2\n'
const bad = good.replace('X20', 'X2..0')

/** Codes of JSON-RPC 2.0, section 5.1, and of LSP 3.17, "Base protocol". */
const code = {
  parse: -32700,
  request: -32600,
  method: -32601,
  params: -32602,
  notInitialized: -32002,
  cancelled: -32800,
}

const started: StdioServer[] = []
afterEach(() => {
  for (const server of started.splice(0)) server.process.kill()
})

async function start(capabilities: object = {}): Promise<StdioServer> {
  const server = await StdioServer.start(capabilities)
  started.push(server)
  return server
}

function bare(): StdioServer {
  const server = new StdioServer()
  started.push(server)
  return server
}

describe('the order of a session', () => {
  it('refuses requests before initialize, drops notes, and then begins as if they had not been', async () => {
    const server = bare()
    server.open(uri, bad)
    expect((await server.ask('textDocument/hover', { textDocument, position })).error?.code).toBe(code.notInitialized)
    expect((await server.ask('shutdown')).error?.code).toBe(code.notInitialized)
    expect((await server.ask('no/such')).error?.code).toBe(code.notInitialized)
    const { result } = await server.initialize()
    expect(result).toMatchObject({ capabilities: { positionEncoding: 'utf-16' } })
    // The text that was opened too early is not open.
    expect((await server.ask('textDocument/hover', { textDocument, position })).result).toBe(null)
    expect((await server.ask('initialize', { processId: null, capabilities: {} })).error?.code).toBe(code.request)
    expect(await server.stop()).toBe(0)
  })

  it('after shutdown refuses all requests, hears only exit, and ends with 0', async () => {
    const server = await start()
    expect((await server.ask('shutdown')).result).toBe(null)
    expect((await server.ask('textDocument/hover', { textDocument, position })).error?.code).toBe(code.request)
    expect((await server.ask('shutdown')).error?.code).toBe(code.request)
    server.open(uri, bad)
    server.note('exit')
    expect(await server.ended()).toBe(0)
    expect(server.shown.size).toBe(0)
  })

  it('ends with 1 where exit comes without shutdown, before initialize or after', async () => {
    const early = bare()
    early.note('exit')
    const late = await start()
    late.note('exit')
    expect([await early.ended(), await late.ended()]).toEqual([1, 1])
  })

  it('ends with its input: with 1 in the middle of a message, with 0 after shutdown', async () => {
    const dying = await start()
    dying.write(framed({ jsonrpc: '2.0', id: 1, method: 'shutdown' }).slice(0, -5))
    dying.process.stdin!.end()
    const idle = bare()
    idle.process.stdin!.end()
    const over = await start()
    await over.ask('shutdown')
    over.process.stdin!.end()
    expect([await dying.ended(), await idle.ended(), await over.ended()]).toEqual([1, 1, 0])
  })

  it('ends where the client no longer reads', async () => {
    const server = await start()
    server.process.stdout!.destroy()
    for (let id = 0; id < 50; id++) server.request('textDocument/hover', { textDocument, position })
    expect(await server.ended()).toBe(1)
  })
})

describe('messages', () => {
  it('may come byte by byte, or many at once', async () => {
    const server = await start()
    const one = framed({
      jsonrpc: '2.0',
      method: 'textDocument/didOpen',
      params: { textDocument: { uri, languageId: 'gcode', version: 1, text: bad } },
    })
    for (const byte of Buffer.from(one)) server.write(Uint8Array.of(byte))
    await server.untilShown(uri, codes => codes.includes('syntax/bad-number'))
    const change = (text: string, version: number) =>
      framed({
        jsonrpc: '2.0',
        method: 'textDocument/didChange',
        params: { textDocument: { uri, version }, contentChanges: [{ text }] },
      })
    server.write(change(bad, 2) + change('', 3) + change(good, 4))
    await server.untilShown(uri, codes => codes.length === 0)
    expect(await server.stop()).toBe(0)
  })

  it('that are no JSON are answered as such, and the next is read', async () => {
    const server = await start()
    for (const broken of ['{', '', 'null}', '{"jsonrpc":"2.0","id":7,"method":', '\u0000\u0001', '[[[[']) {
      const before = server.heard.length
      server.write(framed(broken))
      await server.until(
        heard => server.heard.indexOf(heard) >= before && heard.error?.code === code.parse && heard.id === null,
      )
    }
    for (const odd of ['null', '1', '"text"', '[]', '{}', '{"id":1}', '{"jsonrpc":"2.0","id":"x","method":5}']) {
      server.write(framed(odd))
    }
    expect((await server.ask('textDocument/hover', { textDocument, position })).result).toBe(null)
    expect(await server.stop()).toBe(0)
  })

  it('without a length, or with a wrong one, end the process, with a line that says why', async () => {
    const cases = [
      'Content-Type: application/json\r\n\r\n{}',
      'Content-Length: many\r\n\r\n{}',
      `nonsense\r\n\r\n${framed({ jsonrpc: '2.0', id: 1, method: 'shutdown' })}`,
      framed({ jsonrpc: '2.0', id: 900, method: 'shutdown' }, 10) +
        framed({ jsonrpc: '2.0', id: 901, method: 'shutdown' }).repeat(3),
    ]
    for (const bytes of cases) {
      const server = await start()
      server.write(bytes)
      expect(await server.ended()).toBe(1)
      expect(server.errors).toMatch(/^treen: the client's messages cannot be told apart: .*\n$/)
    }
  })

  it('with a method that nobody knows are answered as such; notes and `$/` notes are ignored', async () => {
    const server = await start()
    for (const method of ['no/such', 'textDocument/moniker', '$/unknown', '__proto__', 'treen/unknown']) {
      expect((await server.ask(method, { textDocument })).error?.code).toBe(code.method)
    }
    for (const method of ['$/setTrace', '$/unknown', '$/cancelRequest', 'no/such', 'textDocument/willSave']) {
      server.note(method, { id: 12345, value: 'off', textDocument })
    }
    expect((await server.ask('textDocument/hover', { textDocument, position })).result).toBe(null)
    expect(await server.stop()).toBe(0)
  })

  it('with parameters that do not fit are answered as such', async () => {
    const server = await start()
    server.open(uri, good)
    const unfit = [
      { textDocument: { uri: 5 }, position },
      { textDocument, position: { line: -1, character: 0 } },
      { textDocument, position: { line: 0.5, character: 0 } },
      { textDocument, position: 'here' },
      { position },
    ]
    for (const params of unfit) {
      expect((await server.ask('textDocument/hover', params)).error?.code).toBe(code.params)
    }
    // Past the end of a line or a text is no fault: it counts as the end.
    const far = { line: 4e9, character: 4e9 }
    expect((await server.ask('textDocument/hover', { textDocument, position: far })).error).toBe(undefined)
    server.note('textDocument/didOpen', { textDocument: null as unknown as object })
    server.note('textDocument/didChange', { textDocument: { uri, version: 2 }, contentChanges: 'all' })
    expect((await server.ask('textDocument/hover', { textDocument, position })).result).not.toBe(null)
    expect(await server.stop()).toBe(0)
  })
})

describe('what is asked', () => {
  it('and cancelled is answered as cancelled, whether it has begun or not', async () => {
    const server = await start({ textDocument: { diagnostic: {} }, workspace: { configuration: true } })
    // Has begun: it waits for the settings, which the client keeps to itself.
    server.unanswered.add('workspace/configuration')
    server.open(uri, good)
    await server.until(({ method }) => method === 'workspace/configuration')
    const begun = server.request('textDocument/diagnostic', { textDocument })
    await server.ask('textDocument/foldingRange', { textDocument })
    server.note('$/cancelRequest', { id: begun })
    expect((await server.answer(begun)).error?.code).toBe(code.cancelled)
    // Has not: both come in one piece.
    for (const [at, method] of ['textDocument/codeAction', 'treen/preview', 'treen/setupSheet'].entries()) {
      const range = { start: position, end: position }
      const params = { textDocument, uri, range, context: { diagnostics: [] }, copy: '', nonce: 'n' }
      const ask = framed({ jsonrpc: '2.0', id: `q${at}`, method, params })
      server.write(ask + framed({ jsonrpc: '2.0', method: '$/cancelRequest', params: { id: `q${at}` } }))
      expect((await server.until(({ id }) => id === `q${at}`)).error?.code).toBe(code.cancelled)
    }
    expect(await server.stop()).toBe(0)
  })

  it('has columns in UTF-16 unless the client offers UTF-8 before it', async () => {
    const chosen = async (positionEncodings: PositionEncodingKind[] | undefined) => {
      const client = await PlainClient.start(new MemoryFiles(), { general: { positionEncodings } })
      expect(await client.stop()).toBe(true)
      return client.server.capabilities.positionEncoding
    }
    const offers = [undefined, ['utf-16'], ['utf-8'], ['utf-32'], ['utf-32', 'utf-8', 'utf-16'], ['utf-16', 'utf-8']]
    expect(await Promise.all(offers.map(chosen))).toEqual(['utf-16', 'utf-16', 'utf-8', 'utf-16', 'utf-8', 'utf-16'])
  })

  it('never registers anything with a client that does not take registrations', async () => {
    const server = await start()
    server.open(uri, bad)
    await server.untilShown(uri, codes => codes.length > 0)
    const asked = server.heard.filter(({ method, id }) => method !== undefined && id !== undefined)
    expect(asked).toEqual([])
    expect(await server.stop()).toBe(0)
  })
})

/** What a client may do at any time, in any order. */
type Step =
  | { do: 'open' | 'close'; text: number; which: number }
  | { do: 'edit'; which: number; text: number; at: number }
  | { do: 'ask'; which: number; method: number; at: number; cancel: boolean }

const methods = [
  'textDocument/hover',
  'textDocument/definition',
  'textDocument/references',
  'textDocument/documentHighlight',
  'textDocument/documentSymbol',
  'textDocument/foldingRange',
  'textDocument/selectionRange',
  'textDocument/semanticTokens/full',
  'textDocument/semanticTokens/range',
  'textDocument/codeAction',
  'textDocument/codeLens',
  'textDocument/completion',
  'textDocument/documentLink',
  'textDocument/prepareRename',
  'textDocument/rename',
  'treen/preview',
  'treen/setupSheet',
  'treen/beginSheet',
]
const texts = [
  good,
  bad,
  '',
  '\r\n\r',
  'O100 SUB\nG1 X1\nO100 ENDSUB\n',
  `(blank: 60 x 40 x 12 mm, zero near-left face)\n${good}`,
  '{ "setups": [ ',
  '\ud800 G1 X\udfff',
]
const names = ['a.nc', 'b.nc', 'c.jobsheet.json']

const stepsArbitrary = fc.array(
  fc.oneof(
    fc.record({
      do: fc.constantFrom('open' as const, 'close' as const),
      which: fc.nat(2),
      text: fc.nat(texts.length - 1),
    }),
    fc.record({ do: fc.constant('edit' as const), which: fc.nat(2), text: fc.nat(texts.length - 1), at: fc.nat(12) }),
    fc.record({
      do: fc.constant('ask' as const),
      which: fc.nat(2),
      method: fc.nat(methods.length - 1),
      at: fc.nat(12),
      cancel: fc.boolean(),
    }),
  ),
  { minLength: 20, maxLength: 120 },
)

const seed = Number(process.env.TREEN_SEED ?? Math.floor(Math.random() * 1e9))

describe('requests in a random order', () => {
  it(`are each answered once, and leave the server well (seed ${seed})`, async () => {
    const server = await start({ workspace: { workspaceEdit: { documentChanges: true } } })
    await fc.assert(
      fc.asyncProperty(stepsArbitrary, steps => walk(server, steps)),
      { seed, numRuns: 15, interruptAfterTimeLimit: 8000 },
    )
    expect(server.heard.filter(({ method }) => method === 'window/logMessage')).toEqual([])
    expect(await server.stop()).toBe(0)
  })
})

async function walk(server: StdioServer, steps: readonly Step[]): Promise<void> {
  const asked: number[] = []
  let version = 10
  for (const step of steps) {
    const document = { uri: `file:///bench/${names[step.which]}` }
    switch (step.do) {
      case 'open':
        server.open(document.uri, texts[step.text])
        break
      case 'close':
        server.note('textDocument/didClose', { textDocument: document })
        break
      case 'edit': {
        const range = {
          start: { line: step.at, character: 0 },
          end: { line: step.at + (step.text % 3), character: step.at },
        }
        const contentChanges = [{ range, text: texts[step.text] }]
        server.note('textDocument/didChange', { textDocument: { ...document, version: ++version }, contentChanges })
        break
      }
      case 'ask': {
        const place = { line: step.at, character: step.at }
        const id = server.request(methods[step.method], {
          textDocument: document,
          position: place,
          positions: [place],
          range: { start: place, end: { line: 20, character: 0 } },
          context: { diagnostics: [], includeDeclaration: true },
          newName: 'other',
          uri: document.uri,
          program: document.uri,
          copy: '',
          nonce: 'n',
        })
        if (step.cancel) server.note('$/cancelRequest', { id })
        asked.push(id)
      }
    }
  }
  for (const id of asked) await server.answer(id)
  for (const id of asked)
    expect(server.heard.filter(heard => heard.id === id && heard.method === undefined)).toHaveLength(1)
  server.heard.splice(0, server.heard.length, ...server.heard.filter(({ method }) => method === 'window/logMessage'))
  for (const name of names) server.note('textDocument/didClose', { textDocument: { uri: `file:///bench/${name}` } })
}

describe('a burst of edits', () => {
  it('of a thousand within a second ends with what a fresh check finds', async () => {
    const server = await start()
    server.open(uri, good)
    await server.untilShown(uri, () => true)
    const edits: string[] = []
    let lines = good.split('\n')
    for (let version = 2; version < 1002; version++) {
      const line = 4 + (version % 3)
      const text = version % 5 === 0 ? `G1 X${version}..` : `G1 X${version % 50} F${600 + version}`
      const range = { start: { line, character: 0 }, end: { line, character: lines[line].length } }
      lines = lines.with(line, text)
      edits.push(
        framed({
          jsonrpc: '2.0',
          method: 'textDocument/didChange',
          params: { textDocument: { uri, version }, contentChanges: [{ range, text }] },
        }),
      )
    }
    const sent = performance.now()
    for (const edit of edits) server.write(edit)
    // Answered in order: when this is, all edits were taken.
    await server.ask('textDocument/hover', { textDocument, position })
    const taken = performance.now() - sent
    console.log(`1,000 edits taken in ${taken.toFixed(0)} ms`)
    // A fresh server with the same text.
    const fresh = await start()
    fresh.open(uri, lines.join('\n'))
    await fresh.untilShown(uri, () => true)
    const wanted = JSON.stringify(fresh.shown.get(uri))
    const ofLast = await server.until(
      ({ method, params }) => method === 'textDocument/publishDiagnostics' && params?.version === 1001,
    )
    expect(JSON.stringify(ofLast.params!.diagnostics)).toBe(wanted)
    expect(JSON.stringify(server.shown.get(uri))).toBe(wanted)
    expect([await server.stop(), await fresh.stop()]).toEqual([0, 0])
  })
})
