import { linesAfter } from '../rewrites/lines.ts'
import { LineWriter } from '../rewrites/lineWriter.ts'
import { type Style, styleOf, writeWord } from '../rewrites/numbers.ts'
import { type Edit, type Source, written } from '../rewrites/source.ts'
import { type LineRead, motionWordOf, scaleOf, walk, wordOf } from '../rewrites/walk.ts'

/** Lengths in a fix are written to this, mm. */
const FINE = 1e-4

/** Writes words as the author of a program would. */
export class Pen {
  readonly style: Style
  private readonly reads: readonly LineRead[]

  constructor(private readonly source: Source) {
    this.style = styleOf(source)
    this.reads = [...walk(source)]
  }

  get gap(): string {
    return this.style.spaced ? ' ' : ''
  }

  /** A word of a length in mm, in the unit of a line; the old word, if there is one, gives its style. */
  length(read: LineRead, letter: string, mm: number, old = wordOf(read.words, letter)): string {
    const { units } = read
    const text = old && old.letter === letter ? written(this.source.program, old) : undefined
    return writeWord(this.style, letter, mm / scaleOf(units), FINE / scaleOf(units), text)
  }

  /** An F word, mm/min. */
  feed(read: LineRead, perMinute: number, old?: string): string {
    const value = perMinute / scaleOf(read.units)
    return writeWord(this.style, 'F', value, value * 5e-4, old)
  }

  writer(read: LineRead): LineWriter {
    return new LineWriter(this.source.program, read.line, read.words, this.style.spaced)
  }

  after(line: number, lines: readonly string[]): Edit {
    return linesAfter(this.source, line, lines)
  }

  before(line: number, lines: readonly string[]): Edit {
    if (line > 0) return linesAfter(this.source, line - 1, lines)
    const edit = linesAfter(this.source, 0, lines)
    const start = { line: 0, character: 0 }
    return { range: { start, end: start }, text: edit.text }
  }

  /**
   * What the next line that moves needs, so that it does what it did when code and feed in force have been changed
   * before it.
   * @param code ten times the G number now in force
   * @param feed now in force, mm/min
   */
  restore(read: LineRead, code: number | undefined, feed: number | undefined): Edit[] {
    const next = this.reads.find(each => each.line > read.line && each.kind !== 'none' && each.kind !== 'code')
    const edits: Edit[] = []
    const writer = next && this.writer(next)
    if (next && writer && code !== undefined && code !== next.motion && !motionWordOf(next.words)) {
      writer.addCode(`G${next.motion / 10}`)
    }
    const { motions, states } = this.source.program
    let same: LineWriter | undefined = writer
    if (feed !== undefined && !read.inverseTime) {
      const cut = this.reads.find(
        each =>
          each.line > read.line &&
          (wordOf(each.words, 'F') || (each.kind !== 'none' && each.motion > 0 && each.kind !== 'code')),
      )
      if (cut && !wordOf(cut.words, 'F')) {
        const was = states[motions.state[cut.motions[0]]].feed
        if (Number.isFinite(was) && Math.abs(was - feed) > 1e-6) {
          if (cut.line !== next?.line) {
            same = this.writer(cut)
            same.add('F', this.feed(cut, was))
            edits.push(...same.edits())
          } else writer?.add('F', this.feed(cut, was))
        }
      }
    }
    return [...(writer?.edits() ?? []), ...edits]
  }
}
