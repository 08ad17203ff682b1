import { partsOf } from '../../syntax/lineParts.ts'
import { ProgramText } from '../../syntax/programText.ts'
import { Token } from '../../syntax/tokens.ts'
import { type Block, blocksOf } from '../language/blocks.ts'
import { Refusal, type Source } from '../rewrites/source.ts'

/** Calls within calls are followed so deep: a subprogram that calls itself has no end in the text. */
const DEEPEST = 20

/**
 * In which order the lines of a program are obeyed, as far as its text tells: its main program from top to bottom, and
 * at each call the subprogram. Of a loop the lines count once: what they leave in force is what they say last.
 */
export class Obeyed {
  private readonly text: ProgramText
  private readonly blocks: readonly Block[]

  constructor(private readonly source: Source) {
    this.text = new ProgramText(source.text)
    this.blocks = blocksOf(this.text)
  }

  /** Nothing is called or repeated. */
  get inOrder(): boolean {
    return this.blocks.length === 0
  }

  /** The line of the main program from which a motion was come to: its own, that of the call, the first of the loop. */
  home(motion: number): number {
    const { program } = this.source
    if (this.inOrder) return program.motions.line[motion]
    const line = program.callTrail(motion)[0]?.line ?? program.motions.line[motion]
    return this.around(line)?.firstLine ?? line
  }

  /**
   * That a line is one of the main program, and not of what is called or repeated.
   * @throws Refusal that says from which lines it can be started instead
   */
  mustBeMain(line: number): void {
    const block = this.around(line)
    if (!block || (block.firstLine === line && !isCalled(block))) return
    const from = block.firstLine + 1
    if (!isCalled(block)) {
      throw new Refusal(
        `Line ${line + 1} is obeyed from line ${from}, where ${block.what.toUpperCase()} begins, and maybe more than once: start again from line ${from}.`,
      )
    }
    const { motions } = this.source.program
    const calls = new Set<number>()
    for (let i = 0; i < motions.count; i++) {
      if (motions.line[i] >= block.firstLine && motions.line[i] <= block.lastLine) calls.add(this.home(i) + 1)
    }
    const what = `Line ${line + 1} belongs to a subprogram`
    if (calls.size === 0) throw new Refusal(`${what} that moves nothing here: start again from a line outside it.`)
    throw new Refusal(
      `${what}: start again from line ${[...calls].sort((a, b) => a - b).join(' or ')}, where it is called.`,
    )
  }

  /** The lines that have been obeyed before a line of the main program, in their order. */
  before(line: number): number[] {
    return this.between(0, line, 0)
  }

  /** The lines of subprograms that stand before a line: what comes after it may call them. */
  subprogramsBefore(line: number): string[] {
    return this.blocks
      .filter(block => block.what === 'sub' && block.lastLine < line)
      .flatMap(({ firstLine, lastLine }) => this.linesOf(firstLine, lastLine))
  }

  /** The values that parameters have been given on lines, as they are written. */
  settingsOn(lines: readonly number[]): string[] {
    const settings: string[] = []
    for (const line of lines) {
      this.text.walk(line, line, (_line, i, { kind, start, end }) => {
        if (kind[i] !== Token.setting) return
        settings.push(this.text.line(line).slice(this.text.column(line, start[i]), this.text.column(line, end[i])))
      })
    }
    return settings
  }

  /** The outermost block that a line stands in. */
  private around(line: number): Block | undefined {
    return this.blocks.find(({ firstLine, lastLine }) => firstLine <= line && line <= lastLine)
  }

  private between(from: number, to: number, depth: number): number[] {
    const lines: number[] = []
    for (let line = from; line < to; line++) {
      const sub = this.blocks.find(({ what, firstLine }) => what === 'sub' && firstLine === line)
      if (sub) line = sub.lastLine
      else lines.push(line)
      const called = sub ? undefined : this.calledOn(line)
      if (called && depth < DEEPEST) {
        for (const each of this.between(called.firstLine + 1, called.lastLine, depth + 1)) lines.push(each)
      }
    }
    return lines
  }

  private calledOn(line: number): Block | undefined {
    const label = this.inOrder ? undefined : this.labelOf(line)
    if (label?.says !== 'call' && label?.says !== 'm98') return undefined
    return this.blocks.find(block => isCalled(block) && this.labelOf(block.firstLine)?.name === label.name)
  }

  private labelOf(line: number) {
    return partsOf(this.text, line).find(({ kind }) => kind === 'label')
  }

  private linesOf(first: number, last: number): string[] {
    return Array.from({ length: last - first + 1 }, (_, n) => this.text.line(first + n))
  }
}

const isCalled = ({ what }: Block) => what === 'sub' || what === 'label'
