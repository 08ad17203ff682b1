import fc from 'fast-check'
import { expect, test } from 'vitest'
import { definitionsOf } from '../../../server/src/features/language/definition.ts'
import { foldsOf } from '../../../server/src/features/language/folding.ts'
import { highlightsAt } from '../../../server/src/features/language/highlight.ts'
import { type Entry, outlineOf } from '../../../server/src/features/language/outline.ts'
import { referencesOf } from '../../../server/src/features/language/references.ts'
import { rename } from '../../../server/src/features/language/rename.ts'
import { selectionsAt } from '../../../server/src/features/language/selection.ts'
import { semanticTokens } from '../../../server/src/features/language/semanticTokens.ts'
import type { TextSpan } from '../../../server/src/syntax/source.ts'
import { reading } from './marked.ts'

const seed = Math.floor(Math.random() * 1e9)

const pieces = [
  ...'G0,G1,G2,G38.2,G93,G20,M3,M6,M98 P1,M99,M2,T1,F100,S9,N10,X,Y1.5,Z-,Z..1,X1e3'.split(','),
  ...'#1,#<a>,#<_b>,##1,#[1+1],#1=2,#<a>=[,[,],[1+2],sin[30],mod,**,=,*57,$1=2,%,/'.split(','),
  ...'O1,O1 sub,O1 endsub,O1 call [1],O<a>,O<a> if [1],O#1 call,(note),(allow plunge/rapid: x),(open,; rest'.split(','),
  ...['\n', '\n', '\n', '\r\n', '\r', ' ', '\t', '🪵', 'ü', '\ud83e', '\u0000', '\ufeff'],
]

const texts = fc.array(fc.oneof(fc.constantFrom(...pieces), fc.string({ maxLength: 3 })), { maxLength: 60 })

test(`any text is answered, within itself, seed ${seed}`, () => {
  fc.assert(
    fc.property(
      texts,
      fc.nat(8),
      fc.nat(20),
      fc.constantFrom('7', '#<b>', 'O<c>', 'N5', '['),
      (parts, down, right, name) => {
        const source = parts.join('')
        const { text, program } = reading(source)
        // The editor's own idea of its lines.
        const lines = source.split(/\r\n|\n|\r/)
        expect(text.lineCount).toBe(lines.length)
        const at = { line: Math.min(down, lines.length - 1), character: right }
        const within = ({ line, start, end }: TextSpan) =>
          line >= 0 && line < lines.length && start >= 0 && start <= end && end <= lines[line].length
        const renamed = rename(text, at, name)
        const spans = [
          ...semanticTokens(text).map(token => token.span),
          ...definitionsOf(text, at),
          ...referencesOf(text, at, true),
          ...highlightsAt(text, program, at).map(each => each.span),
          ...('edits' in renamed ? renamed.edits.map(edit => edit.span) : []),
          ...flat(outlineOf(text, program)).map(entry => entry.at),
        ]
        expect(spans.filter(span => !within(span))).toEqual([])
        for (const fold of foldsOf(text, program)) expect(fold.lastLine).toBeLessThan(lines.length)
        for (const { start, end } of selectionsAt(text, program, [at])[0]) {
          expect(within({ line: start.line, start: start.character, end: lines[start.line].length })).toBe(true)
          expect(within({ line: end.line, start: 0, end: end.character })).toBe(true)
        }
      },
    ),
    { seed, numRuns: 1500 },
  )
})

/** Of a renamed program as many words mean the same thing as before, and at the same places. */
test(`a rename joins nothing and parts nothing, seed ${seed}`, () => {
  fc.assert(
    fc.property(
      texts,
      fc.nat(8),
      fc.nat(20),
      fc.constantFrom('7', '#<b>', 'O<c>', 'N5'),
      (parts, line, character, name) => {
        const source = parts.join('').replace(/\r\n?/g, '\n')
        const { text } = reading(source)
        const at = { line, character }
        const before = referencesOf(text, at, true)
        const result = rename(text, at, name)
        if (!('edits' in result) || result.edits.length === 0) return
        const lines = source.split('\n')
        for (const { span, text: put } of [...result.edits].reverse()) {
          lines[span.line] = lines[span.line].slice(0, span.start) + put + lines[span.line].slice(span.end)
        }
        const { span } = result.edits[0]
        const after = referencesOf(reading(lines.join('\n')).text, { line: span.line, character: span.start + 1 }, true)
        expect(after.map(each => each.line)).toEqual(before.map(each => each.line))
      },
    ),
    { seed, numRuns: 3000 },
  )
})

function flat(entries: readonly Entry[]): Entry[] {
  return entries.flatMap(entry => [entry, ...flat(entry.children)])
}
