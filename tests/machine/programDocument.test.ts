import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { ProgramDocument } from '../../server/src/machine/programDocument.ts'
import type { Range } from '../../server/src/syntax/source.ts'
import { line, lineEnd, program, read, said } from './programs.ts'

/** Applies an edit to a text as an editor does: lines end at \n, \r\n and \r; columns are UTF-16. */
function edited(text: string, range: Range, inserted: string): string {
  const starts = [0]
  for (const match of text.matchAll(/\r\n|\n|\r/g)) starts.push(match.index + match[0].length)
  const offset = (at: number, character: number): number => {
    if (at >= starts.length) return text.length
    const rest = text.slice(starts[at])
    const stop = /\r\n|\n|\r/.exec(rest)?.index ?? rest.length
    return starts[at] + Math.min(character, stop)
  }
  const from = offset(range.start.line, range.start.character)
  const to = Math.max(from, offset(range.end.line, range.end.character))
  return text.slice(0, from) + inserted + text.slice(to)
}

const SEED = Date.now() % 1_000_000
/** Long programs have many chunks; short ones have line ends that meet. */
const long = fc
  .array(
    fc.tuple(
      line.filter(text => !/^o|M98|M2|M30|%/.test(text)),
      fc.constant('\n'),
    ),
    { minLength: 600, maxLength: 900 },
  )
  .map(lines => lines.map(([text, end]) => text + end).join(''))

const editOf = (lines: number): fc.Arbitrary<{ range: Range; text: string }> =>
  fc
    .tuple(
      fc.nat({ max: lines }),
      fc.nat({ max: 12 }),
      fc.oneof(
        { weight: 4, arbitrary: fc.constant(0) },
        { weight: 1, arbitrary: fc.nat({ max: 5 }) },
        { weight: 1, arbitrary: fc.nat({ max: 400 }) },
      ),
      fc.nat({ max: 12 }),
      fc.oneof(
        fc.constantFrom('', '1', 'X', '.', '\n', '\r', '(', ')', ' ', 'G1', 'é', '😀', 'F500\n'),
        fc.array(fc.tuple(line, lineEnd), { maxLength: 4 }).map(all => all.map(([a, b]) => a + b).join('')),
      ),
    )
    .map(([at, column, more, endColumn, text]) => ({
      range: {
        start: { line: at, character: column },
        end: { line: at + more, character: more === 0 ? column + endColumn : endColumn },
      },
      text,
    }))

/** An edit that splits a character in two is none that an editor makes. */
const whole = (text: string): boolean =>
  !/[\ud800-\udbff](?![\udc00-\udfff])|(?<![\ud800-\udbff])[\udc00-\udfff]/.test(text)

const flat = (value: unknown): string =>
  JSON.stringify(value, (_, item) => (typeof item === 'number' && !Number.isFinite(item) ? String(item) : item))

function check(text: string, edits: readonly { range: Range; text: string }[]): void {
  const document = new ProgramDocument(new TextEncoder().encode(text))
  let now = text
  for (const edit of edits) {
    const next = edited(now, edit.range, edit.text)
    if (!whole(next)) continue
    now = next
    document.edit(edit.range, edit.text)
    const incremental = said(document.program())
    const full = said(read(now))
    // Comparing as text is quick; the long comparison is for its account of what differs.
    if (flat(incremental) !== flat(full)) expect(incremental).toEqual(full)
  }
}

describe('an edited program says what the same text read anew says', () => {
  test(`short programs, seed ${SEED}`, () => {
    fc.assert(fc.property(program, fc.array(editOf(60), { minLength: 1, maxLength: 20 }), check), {
      seed: SEED,
      numRuns: 1000,
    })
  })
  test(`programs of several chunks, seed ${SEED}`, () => {
    fc.assert(fc.property(long, fc.array(editOf(900), { minLength: 1, maxLength: 5 }), check), {
      seed: SEED,
      numRuns: 15,
      endOnFailure: true,
    })
  })
})

test('a word that governs later chunks is followed where an edit moves it', () => {
  const text = `G21\nF100 S5 M3\n${'X1\nG1 X2\n'.repeat(600)}M2\n`
  const document = new ProgramDocument(new TextEncoder().encode(text))
  document.edit({ start: { line: 0, character: 0 }, end: { line: 0, character: 0 } }, '(a heading)\n')
  const { motions, states } = document.program()
  expect(states[motions.state[motions.count - 1]].feedWord).toEqual({ line: 2, start: 0, end: 4 })
})

test('it is followed still when the lines between have been read again', () => {
  const text = `G21\nF100 S5 M3\n${'X1\nG1 X2\n'.repeat(600)}M2\n`
  const document = new ProgramDocument(new TextEncoder().encode(text))
  const put = (line: number, from: number, to: number, inserted: string): void =>
    document.edit({ start: { line, character: from }, end: { line, character: to } }, inserted)
  put(0, 0, 0, '(a heading)\n')
  // The last line of the first run of lines: the next begins with a rapid move now, the one after it as before.
  put(256, 1, 2, '0')
  put(0, 0, 0, '(another)\n')
  const { motions, states } = document.program()
  expect(states[motions.state[motions.count - 1]].feedWord).toEqual({ line: 3, start: 0, end: 4 })
})
