import { scan } from '../syntax/scanner.ts'
import { LineStarts, textStart, withLineEnd } from '../syntax/text.ts'
import { Token, TokenBuffer } from '../syntax/tokens.ts'
import { closingProblems } from './closing.ts'
import { DEFAULT_DIALECT, type DialectChoice, dialectOf } from './dialect.ts'
import { execute } from './execute.ts'
import { gather, type Setting } from './gather.ts'
import type { ModalState, Motions } from './motions.ts'
import { operationsOf } from './operations.ts'
import type { Program, Word } from './program.ts'
import { columns, Run } from './run.ts'

export interface ReadOptions {
  readonly dialect?: DialectChoice
  /** Lengths of the bits by H number, mm; without it G43 changes nothing: Z0 is where each bit was touched off. */
  readonly toolLengths?: ReadonlyMap<number, number>
  /** Parameters as the machine has stored them, by number or by name (lower case). */
  readonly parameters?: ReadonlyMap<number | string, number>
}

/** Lines scanned at a time: few enough for their tokens to stay in the cache. */
const LINES_AT_A_TIME = 256

/** Reads and runs a program. Never throws: whatever is wrong becomes a problem, and the rest is read all the same. */
export function readProgram(bytes: Uint8Array, options: ReadOptions = {}): Program {
  const text = withLineEnd(bytes)
  const run = new Run(text, dialectOf(options.dialect ?? DEFAULT_DIALECT), options.toolLengths, options.parameters)
  if (run.dialect.compact) run.modal.motion = 0
  const lines = new LineStarts()
  const tokens = new TokenBuffer()
  const settings: Setting[] = []
  let offset = textStart(text)
  lines.add(offset)
  while (offset < text.length) {
    offset = scan(text, offset, LINES_AT_A_TIME, tokens)
    let token = 0
    while (token < tokens.count) {
      const line = lines.count - 1
      run.block.reset(line, lines.at[line])
      settings.length = 0
      const first = token
      token = gather(run, tokens, token, settings)
      lines.add(tokens.end[token - 1])
      if (run.block.end - run.block.start > run.dialect.lineLength) checkLength(run, tokens, first, token)
      runLine(run, tokens.kind[first] === Token.percent, settings)
    }
  }
  return programOf(run, lines)
}

function runLine(run: Run, percent: boolean, settings: readonly Setting[]): void {
  const { block, modal } = run
  if (percent && block.firstWord < 0) {
    // 3.1: a second % ends the program, whatever follows.
    if (run.percents++ > 0) modal.ended = true
    return
  }
  if (block.firstWord < 0) return
  if (modal.ended) {
    run.afterEnd ??= run.lineSpan()
    return
  }
  run.noteLine()
  execute(run, settings)
}

function checkLength(
  run: Run,
  tokens: { kind: Uint8Array; start: Uint32Array; end: Uint32Array },
  from: number,
  to: number,
): void {
  const { block, dialect } = run
  let length = columns(run.bytes, block.start, block.end)
  if (!dialect.countsComments) {
    // The compact dialect leaves out comments and blanks before it counts.
    length = 0
    for (let i = from; i < to; i++) {
      const kind = tokens.kind[i]
      if (kind === Token.lineEnd || kind === Token.comment || kind === Token.lineComment) continue
      for (let p = tokens.start[i]; p < tokens.end[i]; p++) if (run.bytes[p] !== 32 && run.bytes[p] !== 9) length++
    }
  }
  if (length <= dialect.lineLength) return
  const full = columns(run.bytes, block.start, block.end)
  run.problem(
    'syntax/line-too-long',
    { line: block.line, start: Math.min(dialect.lineLength, full), end: full },
    `This line has ${length} characters; the machine reads ${dialect.lineLength} and refuses the rest. Write it on several lines.`,
    { found: length, limit: dialect.lineLength },
  )
}

function programOf(run: Run, lines: LineStarts): Program {
  // The line end added by us ends the last line; a start was noted after it.
  const lineCount = lines.count - 1
  const { bytes, motions: store } = run
  const decoder = new TextDecoder('utf-8', { ignoreBOM: true })
  const forPrinter = run.printer > 0
  const motions: Motions = {
    count: store.count,
    kind: store.kind.subarray(0, store.count),
    flags: store.flags.subarray(0, store.count),
    x: store.x.subarray(0, store.count),
    y: store.y.subarray(0, store.count),
    z: store.z.subarray(0, store.count),
    line: store.line.subarray(0, store.count),
    state: store.state.subarray(0, store.count),
    arc: store.arc.subarray(0, store.count),
    arcs: run.arcs,
    start: run.start,
  }
  return {
    lineCount,
    lineText: line => {
      if (!(line >= 0 && line < lineCount)) return ''
      let end = lines.at[line + 1] - 1
      if (end > lines.at[line] && bytes[end] === 10 && bytes[end - 1] === 13) end--
      return decoder.decode(bytes.subarray(lines.at[line], end))
    },
    motions,
    states: statesOf(run),
    events: run.events,
    operations: operationsOf(run.comments, store, lineCount),
    problems: forPrinter ? [run.printerProblem!] : closingProblems(run),
    comments: run.comments,
    notSimulated: run.notSimulated,
    forPrinter,
    wordsOf: line => (line >= 0 && line < lineCount ? wordsOf(bytes, lines.at[line], line) : []),
    callTrail: motion => run.trails.get(motion) ?? [],
  }
}

/** In a program without any M6 the bit that T chose is the one in the spindle. */
function statesOf(run: Run): readonly ModalState[] {
  if (run.changesBits) return run.states
  return run.states.map((state, i) => {
    const { tool, word } = run.selections[i]
    return tool === undefined || tool === 0 ? state : { ...state, tool, toolWord: word }
  })
}

function wordsOf(bytes: Uint8Array, from: number, line: number): Word[] {
  const tokens = new TokenBuffer()
  scan(bytes, from, 1, tokens)
  const words: Word[] = []
  for (let i = 0; i < tokens.count; i++) {
    const kind = tokens.kind[i]
    const letter = bytes[tokens.start[i]] & 0xdf
    if (kind < 65 && !(kind === Token.expression || kind === Token.badNumber || kind === Token.badExpression)) continue
    if (letter < 65 || letter > 90) continue
    words.push({
      letter: String.fromCharCode(letter),
      value: tokens.value[i],
      span: { line, start: columns(bytes, from, tokens.start[i]), end: columns(bytes, from, tokens.end[i]) },
    })
  }
  return words
}
