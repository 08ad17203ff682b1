import type { CodeAction, Diagnostic, DocumentDiagnosticReport } from 'vscode-languageserver'
import type { Chance } from '../faults/random.ts'
import { SMALL_PROGRAMS, SMALL_SHEET } from '../job/workedExample.ts'
import { MemoryFiles, PlainClient } from '../protocol/plainClient.ts'
import { randomMessage } from './messages.ts'
import { randomProgram } from './programs.ts'
import { randomSheet } from './sheets.ts'

/** What must not take more of the processor than this, s: a text of some kilobytes, with all that is asked of it. */
const LONGEST = 20

export const TARGETS = ['programs', 'sheets', 'messages'] as const
export type Target = (typeof TARGETS)[number]

const abilities = {
  textDocument: { diagnostic: {}, documentSymbol: { hierarchicalDocumentSymbolSupport: true } },
  workspace: { workspaceEdit: { documentChanges: true, resourceOperations: ['create' as const] } },
}

/**
 * One random case of a kind, tried on a server of its own; gives what was wrong, and what it was tried with.
 * @param trying hears of the input before it is tried: after a hang nobody could tell
 */
export async function tryCase(
  target: Target,
  chance: Chance,
  trying: (input: string) => void = () => {},
): Promise<{ wrong?: string; input: string }> {
  const before = process.cpuUsage()
  const { input, run } = cases[target](chance)
  trying(input)
  let wrong: string | undefined
  try {
    wrong = await Promise.race([run(), silence()])
  } catch (error) {
    wrong = error instanceof Error ? (error.stack ?? error.message) : String(error)
  }
  const { user, system } = process.cpuUsage(before)
  const seconds = (user + system) / 1e6
  if (!wrong && seconds > LONGEST) wrong = `It takes ${seconds.toFixed(1)} s`
  return { wrong, input }
}

/** Ends after a minute in which nobody answered. */
function silence(): Promise<string> {
  return new Promise(resolve => setTimeout(resolve, 60_000, 'Something is never answered').unref())
}

const cases: Record<Target, (chance: Chance) => { input: string; run: () => Promise<string | undefined> }> = {
  programs(chance) {
    const text = randomProgram(chance)
    return { input: text, run: () => asked({}, 'a.nc', text, chance) }
  },
  sheets(chance) {
    const text = randomSheet(chance)
    const name = 'a.jobsheet.json'
    return { input: text, run: () => asked({ ...SMALL_PROGRAMS, [name]: text }, name, text, chance) }
  },
  messages(chance) {
    const names = ['plug.nc', 'a.jobsheet.json', 'none.nc']
    const uris = names.map(name => `file:///bench/${name}`)
    const messages = Array.from({ length: 60 }, () => randomMessage(chance, uris))
    return { input: messages.map(message => JSON.stringify(message)).join('\n'), run: () => told(messages, chance) }
  },
}

/** Opens a text, asks all that an editor asks, takes the fixes that are offered, and looks at the answers. */
async function asked(files: Record<string, string>, name: string, text: string, chance: Chance) {
  const client = await PlainClient.start(new MemoryFiles(files), abilities)
  const textDocument = { uri: client.uri(name) }
  await client.open(name, text)
  const report = await client.request<DocumentDiagnosticReport>('textDocument/diagnostic', { textDocument })
  const items = report.kind === 'full' ? report.items : []
  const lines = text.split(/\r\n|\r|\n/)
  for (const item of items) {
    const fault = faultOf(item, lines)
    if (fault) return `${fault}: ${JSON.stringify(item)}`
  }
  const position = { line: chance.below(lines.length), character: chance.below(12) }
  const range = { start: position, end: { line: lines.length, character: 0 } }
  const context = { diagnostics: [], includeDeclaration: true }
  const everything = { textDocument, position, positions: [position], range, context, newName: 'other' }
  for (const method of documentMethods) await allowed(client.request(`textDocument/${method}`, everything))
  for (const { range: at } of items.slice(0, 5)) {
    const asked = { textDocument, range: at, context: { diagnostics: items } }
    const actions = await client.request<CodeAction[]>('textDocument/codeAction', asked)
    if (actions.some(({ title }) => /undefined|NaN|\[object/.test(title))) return JSON.stringify(actions)
  }
  await client.request('treen/preview', { uri: textDocument.uri, copy: '' })
  await client.request('treen/setupSheet', { uri: textDocument.uri, nonce: 'n' })
  await client.request('treen/beginSheet', { program: textDocument.uri })
  return ended(client)
}

const documentMethods = [
  ...['hover', 'definition', 'references', 'documentHighlight', 'documentSymbol', 'foldingRange', 'selectionRange'],
  ...[
    'semanticTokens/full',
    'semanticTokens/range',
    'codeLens',
    'documentLink',
    'completion',
    'prepareRename',
    'rename',
  ],
]

function faultOf({ range: { start, end }, message }: Diagnostic, lines: readonly string[]): string | undefined {
  const said = String(message)
  if (said.trim() === '' || /undefined|NaN|\[object/.test(said)) return 'It says nothing'
  if (start.line > end.line || (start.line === end.line && start.character > end.character))
    return 'It ends before it begins'
  const inside = [start, end].every(({ line, character }) => line < lines.length && character <= lines[line].length)
  return inside ? undefined : 'It stands outside the text'
}

async function told(messages: readonly { method: string; params: object }[], chance: Chance) {
  const files = { ...SMALL_PROGRAMS, 'a.jobsheet.json': JSON.stringify(SMALL_SHEET) }
  const client = await PlainClient.start(new MemoryFiles(files), abilities)
  await client.open('plug.nc', SMALL_PROGRAMS['plug.nc'])
  const answers: Promise<unknown>[] = []
  for (const { method, params } of messages) {
    if (/\/did|^\$|^initialized/.test(method)) await client.connection.sendNotification(method, params)
    else answers.push(allowed(client.request(method, params)))
    if (chance.below(4) === 0) await answers.at(-1)
  }
  await Promise.all(answers)
  // Whatever it was told: a text that is opened now is checked.
  await client.open('b.nc', 'G1 X1..2 F100\n')
  const textDocument = { uri: client.uri('b.nc') }
  const report = await client.request<DocumentDiagnosticReport>('textDocument/diagnostic', { textDocument })
  if (report.kind !== 'full' || report.items.length === 0) return 'It no longer checks'
  return ended(client)
}

/** An error that the standard names is an answer too. */
async function allowed(answer: Promise<unknown>): Promise<void> {
  try {
    await answer
  } catch (error) {
    const { code } = error as { code?: number }
    if (![-32601, -32602, -32803, -32800].includes(Number(code))) throw error
  }
}

/** Hangs up; the first fault that the server has logged. */
async function ended(client: PlainClient): Promise<string | undefined> {
  return (await client.stop()) ? client.log[0] : 'It did not answer shutdown'
}
