import type { Program, Word } from '../../machine/program.ts'
import { type Edit, editOf, insertion, written } from './source.ts'

/** The order in which most people write words. */
const ORDER = 'NGXYZABCIJKRLPQFSTM'

/** The edits of one line: words replaced where they stand, and words added where they belong among the others. */
export class LineWriter {
  private replaced = new Map<Word, string>()
  private added: { readonly letter: string; readonly text: string }[] = []

  constructor(
    private readonly program: Program,
    private readonly line: number,
    private readonly words: readonly Word[],
    private readonly spaced: boolean,
  ) {}

  replace(word: Word, text: string): void {
    if (text === written(this.program, word)) this.replaced.delete(word)
    else this.replaced.set(word, text)
  }

  add(letter: string, text: string): void {
    this.added.push({ letter, text })
  }

  addCode(text: string): void {
    this.added.push({ letter: 'G', text })
  }

  mark(): readonly [ReadonlyMap<Word, string>, number] {
    return [new Map(this.replaced), this.added.length]
  }

  /** Back to what was written at a mark. */
  reset([replaced, added]: readonly [ReadonlyMap<Word, string>, number]): void {
    this.replaced = new Map(replaced)
    this.added.length = added
  }

  edits(): Edit[] {
    const edits = [...this.replaced].map(([word, text]) => editOf(word.span, text))
    const gap = this.spaced ? ' ' : ''
    const places = new Map<number, { text: string; before: boolean }>()
    const ordered = [...this.added].sort((a, b) => ORDER.indexOf(a.letter) - ORDER.indexOf(b.letter))
    for (const { letter, text } of ordered) {
      const earlier = this.words.filter(word => goesBefore(word.letter, letter)).at(-1)
      const at = earlier?.span.end ?? this.words[0]?.span.start ?? this.program.lineText(this.line).trimEnd().length
      const known = places.get(at)
      places.set(at, {
        text: earlier ? `${known?.text ?? ''}${gap}${text}` : `${known?.text ?? ''}${text}${gap}`,
        before: !earlier,
      })
    }
    for (const [at, { text }] of places) edits.push(insertion(this.line, at, text))
    return edits
  }
}

/** A new code goes before all words but the line's number; any other word after those that people write before it. */
function goesBefore(there: string, added: string): boolean {
  if (added === 'G') return there === 'N'
  if (there === 'M' || there === 'S' || there === 'T') return false
  return ORDER.indexOf(there) <= ORDER.indexOf(added)
}
