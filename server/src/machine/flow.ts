import { isBlank, isLetter } from '../syntax/characters.ts'
import { FLOW_KEYWORDS } from '../syntax/names.ts'
import { endOfValue } from '../syntax/scanner.ts'
import type { TextSpan } from '../syntax/source.ts'
import { Token, type TokenBuffer } from '../syntax/tokens.ts'
import * as W from './block.ts'
import { finishLine } from './finishLine.ts'
import { gather, type Setting } from './gather.ts'
import type { Run } from './run.ts'
import { Group } from './words.ts'

/** Most lines obeyed: more is a loop that does not end, or one that nobody waits for. */
export const MOST_STEPS = 500_000
/** Deepest nesting of calls. */
const DEEPEST_CALLS = 50
/** Parameters that belong to a call alone. */
const LOCALS = 30

/** A line with an O word: its label, what it says, and where its values stand. */
interface FlowLine {
  readonly line: number
  readonly label: string
  /** `label` for an O number alone, which M98 calls. */
  readonly keyword: string
  readonly valuesFrom: number
  readonly valuesTo: number
}

interface Frame {
  readonly returnTo: number
  readonly parameters: ReadonlyMap<number | string, number>
  readonly trail: readonly TextSpan[]
  /** M98 repeats: how many times more, and where the body begins. */
  again: number
  readonly body: number
}

/**
 * Runs a program whose lines are not always read in their order: O-word subprograms, branches and loops, and
 * M98/M99, of the kept extensions. Steps and nesting are bounded; each motion knows the calls that led to it.
 */
export function runWithCalls(run: Run, tokens: TokenBuffer, settings: Setting[]): void {
  new CallRunner(run, tokens, settings).go()
}

class CallRunner {
  private readonly firstToken: number[] = [0]
  private readonly starts: number[] = [0]
  private readonly flow = new Map<number, FlowLine>()
  private readonly byLabel = new Map<string, FlowLine[]>()
  private readonly seen: Uint8Array
  private readonly frames: Frame[] = []
  private readonly repeats = new Map<number, number>()
  private readonly said = new Set<number>()
  private endLine = -1

  constructor(
    private readonly run: Run,
    private readonly tokens: TokenBuffer,
    private readonly settings: Setting[],
  ) {
    for (let i = 0; i < tokens.count; i++) {
      if (tokens.kind[i] === Token.flow) this.addFlowLine(i)
      if (tokens.kind[i] === Token.lineEnd) {
        this.firstToken.push(i + 1)
        this.starts.push(tokens.end[i])
      }
    }
    this.seen = new Uint8Array(this.firstToken.length)
  }

  go(): void {
    const { run } = this
    const lines = this.firstToken.length - 1
    let steps = 0
    let line = 0
    while (line < lines && !run.modal.ended) {
      if (++steps > MOST_STEPS) {
        this.read(line)
        run.quiet = false
        run.modal.ended = true
        run.cannotSimulate(
          run.lineSpan(),
          `After ${MOST_STEPS} lines the program has still not ended; the rest is not followed.`,
        )
        break
      }
      const next = this.step(line)
      if (run.modal.ended) this.endLine = line
      line = next
    }
    run.trail = []
    this.readTheRest(lines)
    run.out.problems.sort((a, b) => a.span.line - b.span.line || a.span.start - b.span.start)
    run.out.comments.sort((a, b) => a.line - b.line || a.start - b.start)
  }

  /** Gathers a line; what is wrong with it is said once, however often it is read. */
  private read(line: number): number {
    const { run, tokens, settings } = this
    run.quiet = this.seen[line] === 1
    this.seen[line] = 1
    run.block.reset(line, this.starts[line])
    settings.length = 0
    return gather(run, tokens, this.firstToken[line], settings)
  }

  /** Obeys a line; returns the next. */
  private step(line: number): number {
    const { run } = this
    const after = this.read(line)
    const flow = this.flow.get(line)
    if (flow) return this.obey(flow)
    finishLine(run, this.tokens, this.firstToken[line], after, this.settings)
    const code = run.block.mCount > 0 ? run.block.m[Group.calls - 100] : -1
    if (code === 980) return this.subprogram(line)
    if (code === 990) {
      if (this.frames.length > 0) return this.leave()
      run.modal.ended = true
    }
    return line + 1
  }

  private fail(message: string, code = 'syntax/bad-word'): void {
    const { run } = this
    if (this.said.has(run.block.line)) return
    this.said.add(run.block.line)
    const { quiet } = run
    run.quiet = false
    run.problem(code, run.lineSpan(), message)
    run.quiet = quiet
  }

  private value(flow: FlowLine): number {
    const { run } = this
    if (flow.valuesFrom >= flow.valuesTo) {
      this.fail(`${flow.keyword.toUpperCase()} needs a value in brackets.`, 'syntax/bad-expression')
      return 0
    }
    const value = run.expressions.evaluate(run.bytes, flow.valuesFrom, flow.valuesTo)
    const error = run.expressions.error
    if (error && !this.said.has(flow.line)) {
      this.said.add(flow.line)
      run.problem('syntax/bad-expression', run.span(error.start, error.end), error.message)
    }
    return error ? 0 : value
  }

  private obey(flow: FlowLine): number {
    const { line, label, keyword } = flow
    const find = (keywords: string, from = line): FlowLine | undefined =>
      this.byLabel.get(label)?.find(other => other.line > from && keywords.split(' ').includes(other.keyword))
    const before = (keywords: string): FlowLine | undefined =>
      this.byLabel.get(label)?.findLast(other => other.line < line && keywords.split(' ').includes(other.keyword))
    const need = (other: FlowLine | undefined, what: string): number => {
      if (other) return other.line
      this.fail(`This ${keyword.toUpperCase()} has no ${what} with the same O number: the machine stops here.`)
      return line
    }
    switch (keyword) {
      case 'label':
        return line + 1
      case 'sub':
        return need(find('endsub'), 'ENDSUB') + 1
      case 'endsub':
      case 'return':
        if (this.frames.length > 0) return this.leave()
        this.fail(`${keyword.toUpperCase()} stands outside a subprogram that has been called.`)
        return line + 1
      case 'call':
        return this.call(flow)
      case 'if':
        return this.branch(flow, line)
      case 'elseif':
      case 'else':
        return need(find('endif'), 'ENDIF') + 1
      case 'endif':
        return line + 1
      case 'while': {
        const opening = before('do endwhile while')
        if (opening?.keyword === 'do') return this.value(flow) !== 0 ? opening.line + 1 : line + 1
        return this.value(flow) !== 0 ? line + 1 : need(find('endwhile'), 'ENDWHILE') + 1
      }
      case 'endwhile':
        return before('while')?.line ?? need(undefined, 'WHILE') + 1
      case 'do':
        return line + 1
      case 'repeat': {
        const times = Math.round(this.value(flow))
        if (times <= 0) return need(find('endrepeat'), 'ENDREPEAT') + 1
        this.repeats.set(line, times)
        return line + 1
      }
      case 'endrepeat': {
        const opening = before('repeat')
        if (!opening) return need(undefined, 'REPEAT') + 1
        const left = (this.repeats.get(opening.line) ?? 1) - 1
        this.repeats.set(opening.line, left)
        return left > 0 ? opening.line + 1 : line + 1
      }
      case 'break':
        return this.closing(flow, need) + 1
      case 'continue':
        return this.closing(flow, need)
      default:
        if (!FLOW_KEYWORDS.includes(keyword)) this.fail(`O words know no ${keyword.toUpperCase()}.`)
        return line + 1
    }
  }

  /** The line that closes the loop a BREAK or CONTINUE stands in. */
  private closing(flow: FlowLine, need: (other: FlowLine | undefined, what: string) => number): number {
    const others = this.byLabel.get(flow.label) ?? []
    const opening = others.findLast(
      other => other.line < flow.line && ['do', 'while', 'repeat'].includes(other.keyword),
    )
    const close = opening?.keyword === 'do' ? 'while' : `end${opening?.keyword}`
    return need(
      others.find(other => other.line > flow.line && other.keyword === close),
      'loop around it',
    )
  }

  private branch(flow: FlowLine, from: number): number {
    let at: FlowLine | undefined = flow
    let line = from
    while (at && at.keyword !== 'else' && at.keyword !== 'endif') {
      if (at !== flow) this.read(at.line)
      if (this.value(at) !== 0) return at.line + 1
      line = at.line
      at = this.byLabel
        .get(flow.label)
        ?.find(other => other.line > line && ['elseif', 'else', 'endif'].includes(other.keyword))
    }
    if (at) return at.line + 1
    this.fail('This IF has no ENDIF with the same O number: the machine stops here.')
    return from + 1
  }

  private call(flow: FlowLine): number {
    const { run } = this
    const target = this.byLabel.get(flow.label)?.find(other => other.keyword === 'sub')
    if (!target) {
      this.fail(
        'No subprogram of this name is in the program. If it is a file of its own, what it does is not known here.',
      )
      return flow.line + 1
    }
    const values: number[] = []
    let at = flow.valuesFrom
    while (at < flow.valuesTo && values.length < LOCALS) {
      const stop = Math.abs(endOfValue(run.bytes, at))
      if (stop <= at) break
      const value = run.expressions.evaluate(run.bytes, at, stop)
      if (run.expressions.error) {
        const { start, end, message } = run.expressions.error
        run.problem('syntax/bad-expression', run.span(start, end), message)
      }
      values.push(Number.isNaN(value) ? 0 : value)
      at = stop
      while (at < flow.valuesTo && isBlank(run.bytes[at])) at++
    }
    const outer = run.modal.parameters
    if (!this.enter(flow.line + 1, 0, target.line + 1)) return flow.line + 1
    // #1 to #30 and names without an underscore belong to the call.
    const inner = new Map(outer)
    for (const key of outer.keys()) {
      if (typeof key === 'number' ? key <= LOCALS : !key.startsWith('_')) inner.delete(key)
    }
    values.forEach((value, i) => {
      inner.set(i + 1, value)
    })
    run.modal.parameters = inner
    return target.line + 1
  }

  /** M98 P L: the lines after `O` and that number, up to M99. */
  private subprogram(line: number): number {
    const { block } = this.run
    const name = block.holds(W.P) ? String(Math.round(block.value[W.P])) : ''
    const target = this.byLabel.get(name)?.find(other => other.keyword === 'label')
    if (!target) {
      this.fail(
        name === ''
          ? 'M98 needs a P word: which subprogram.'
          : `No line O${name} begins the subprogram that is called here.`,
      )
      return line + 1
    }
    const times = block.holds(W.L) ? Math.round(block.value[W.L]) : 1
    if (times < 1) return line + 1
    return this.enter(line + 1, times - 1, target.line + 1) ? target.line + 1 : line + 1
  }

  private enter(returnTo: number, again: number, body: number): boolean {
    const { run } = this
    if (this.frames.length >= DEEPEST_CALLS) {
      this.fail(`Calls are nested more than ${DEEPEST_CALLS} deep here: a subprogram calls itself without end.`)
      run.modal.ended = true
      return false
    }
    this.frames.push({ returnTo, parameters: new Map(run.modal.parameters), trail: run.trail, again, body })
    run.trail = [...run.trail, run.lineSpan()]
    return true
  }

  private leave(): number {
    const { run } = this
    const frame = this.frames[this.frames.length - 1]
    if (frame.again > 0) {
      frame.again--
      return frame.body
    }
    this.frames.pop()
    run.trail = frame.trail
    if (frame.returnTo > 0 && this.flow.has(frame.returnTo - 1)) {
      // What a call has set beyond its own parameters stays.
      const kept = new Map(frame.parameters)
      for (const [key, value] of run.modal.parameters) {
        if (typeof key === 'number' ? key > LOCALS : key.startsWith('_')) kept.set(key, value)
      }
      run.modal.parameters = kept
    }
    return frame.returnTo
  }

  /** Lines that were never reached are read for what is wrong with their text alone. */
  private readTheRest(lines: number): void {
    const { run } = this
    run.onlyText = true
    let inSubprogram = false
    for (let line = 0; line < lines; line++) {
      if (line > this.endLine && this.endLine >= 0 && this.flow.has(line)) inSubprogram = true
      if (this.seen[line] === 1) continue
      this.read(line)
      if (this.endLine >= 0 && line > this.endLine && !inSubprogram && run.block.firstWord >= 0) {
        run.out.afterEnd ??= run.lineSpan()
      }
    }
    run.onlyText = false
    run.quiet = false
  }

  private addFlowLine(token: number): void {
    const { bytes } = this.run
    const end = this.tokens.end[token]
    let at = this.tokens.start[token] + 1
    const text = (stop: (byte: number) => boolean): string => {
      let out = ''
      for (; at < end && !stop(bytes[at]); at++) {
        if (!isBlank(bytes[at])) out += String.fromCharCode(bytes[at])
      }
      return out.toLowerCase()
    }
    while (at < end && isBlank(bytes[at])) at++
    let label: string
    if (bytes[at] === 60) {
      label = text(byte => byte === 62)
      at++
    } else label = text(isLetter).replace(/^0+(?=\d)/, '')
    const keyword = text(byte => !isLetter(byte) && !isBlank(byte))
    const line = this.firstToken.length - 1
    const known = keyword === '' ? 'label' : keyword
    if (this.flow.has(line)) return
    const flow = { line, label, keyword: known, valuesFrom: at, valuesTo: end }
    this.flow.set(line, flow)
    const others = this.byLabel.get(label)
    if (others) others.push(flow)
    else this.byLabel.set(label, [flow])
  }
}
