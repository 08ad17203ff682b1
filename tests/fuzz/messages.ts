import type { Chance } from '../faults/random.ts'

const methods = [
  ...['hover', 'definition', 'references', 'documentHighlight', 'documentSymbol', 'foldingRange', 'selectionRange'],
  ...[
    'semanticTokens/full',
    'semanticTokens/range',
    'codeAction',
    'codeLens',
    'completion',
    'documentLink',
    'inlayHint',
  ],
  ...[
    'prepareRename',
    'rename',
    'diagnostic',
    'didOpen',
    'didChange',
    'didClose',
    'didSave',
    'formatting',
    'signatureHelp',
  ],
].map(method => `textDocument/${method}`)
const others = [
  ...['workspace/didChangeWatchedFiles', 'workspace/didChangeConfiguration', 'workspace/executeCommand', '$/setTrace'],
  ...[
    '$/cancelRequest',
    'treen/preview',
    'treen/setupSheet',
    'treen/beginSheet',
    'treen/checkFiles',
    'no/such',
    'initialized',
  ],
]
const fields = [
  ...['textDocument', 'uri', 'position', 'positions', 'range', 'start', 'end', 'line', 'character', 'contentChanges'],
  ...[
    'text',
    'version',
    'languageId',
    'context',
    'diagnostics',
    'only',
    'newName',
    'changes',
    'type',
    'settings',
    'treen',
  ],
  ...['program', 'folder', 'copy', 'nonce', 'id', '__proto__', 'includeDeclaration', 'previousResultId', 'uris'],
]

export interface RandomMessage {
  readonly method: string
  readonly params: object
}

/** A message with a right shape in which something is not, or with no shape at all. */
export function randomMessage(chance: Chance, uris: readonly string[]): RandomMessage {
  const method = chance.pick(chance.below(4) === 0 ? others : methods)
  const uri = chance.pick(uris)
  const place = () => ({ line: chance.below(12), character: chance.below(20) })
  const right = {
    textDocument: { uri, languageId: 'gcode', version: chance.below(99), text: 'G1 X1..\nM2\n' },
    uri,
    program: uri,
    position: place(),
    positions: [place()],
    range: { start: place(), end: place() },
    contentChanges: [{ range: { start: place(), end: place() }, text: chance.pick(['', 'X', '\n', 'G0 Z-9\n']) }],
    context: { diagnostics: [], includeDeclaration: true },
    newName: chance.pick(['', 'other', '#1', '__proto__', '<b>']),
    changes: [{ uri, type: 2 }],
    copy: '',
    nonce: 'n',
  }
  return { method, params: chance.below(3) === 0 ? right : (bent(chance, right, 3) as object) }
}

function bent(chance: Chance, value: unknown, depth: number): unknown {
  if (typeof value !== 'object' || value === null || depth === 0) return anything(chance, 2)
  const entries = Object.entries(value).map(([key, inner]) =>
    chance.below(6) === 0 ? ([key, bent(chance, inner, depth - 1)] as const) : ([key, inner] as const),
  )
  if (chance.below(3) === 0) entries.push([chance.pick(fields), anything(chance, 2)])
  const kept = entries.filter(() => chance.below(12) > 0)
  return Array.isArray(value) ? kept.map(([, inner]) => inner) : Object.fromEntries(kept)
}

function anything(chance: Chance, depth: number): unknown {
  switch (chance.below(depth > 0 ? 9 : 7)) {
    case 0:
      return null
    case 1:
      return chance.pick([0, -1, 1.5, 4294967296, -2147483648, 1e300])
    case 2:
      return chance.pick([
        '',
        'file:///bench/a.nc',
        '%%%',
        'file://',
        'x'.repeat(9999),
        '\ud800',
        'untitled:1',
        'not a uri',
      ])
    case 3:
      return chance.yes()
    case 4:
      return { line: chance.below(5), character: chance.below(5) }
    case 5:
      return []
    case 6:
      return {}
    case 7:
      return Array.from({ length: chance.below(4) }, () => anything(chance, depth - 1))
    default:
      return Object.fromEntries(
        Array.from({ length: chance.below(4) }, () => [chance.pick(fields), anything(chance, depth - 1)]),
      )
  }
}
