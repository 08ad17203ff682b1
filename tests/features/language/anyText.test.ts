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
import { allUses, sameThing, type Use } from '../../../server/src/features/language/uses.ts'
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
          ...highlightsAt(text, () => program, at).map(each => each.span),
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

const lines = fc.array(
  fc.constantFrom(
    ...['#1=2', '#2 = [#1+1]', 'X#1Y#<a>', '#<a>=#2', '#<_g>=1', 'Z[#<_g>*# 1]', '#40=#41', '#41=1', '(#1)', 'X1'],
    ...['o1 sub', 'o1 endsub', 'o1 call [#1]', 'o<a> sub', 'o<A> endsub', 'o < a > call', 'o2 if [#1]', 'o2 endif'],
    ...['M98 P3', 'o003', 'M99', 'N10 X1', 'N20', 'N 10'],
  ),
  { minLength: 3, maxLength: 25 },
)

/** After a rename the same places mean one thing, and everything else means what it meant. */
test(`a rename joins nothing and parts nothing, seed ${seed}`, () => {
  let renames = 0
  fc.assert(
    fc.property(lines, fc.nat(), fc.constantFrom('7', '#<b>', 'O<c>', 'N5', '42', '_h', '#2'), (parts, pick, name) => {
      const { text } = reading(parts.join('\n'))
      const { uses } = allUses(text)
      if (uses.length === 0) return
      const { span } = uses[pick % uses.length]
      const at = { line: span.line, character: span.start + 1 }
      const result = rename(text, at, name)
      if (!('edits' in result) || result.edits.length === 0) return
      renames++
      const after = [...parts]
      for (const { span, text: put } of [...result.edits].reverse()) {
        after[span.line] = after[span.line].slice(0, span.start) + put + after[span.line].slice(span.end)
      }
      // Things are told apart by the first place that means them.
      const things = (all: readonly Use[]) => all.map(use => all.findIndex(other => sameThing(other, use)))
      const fresh = allUses(reading(after.join('\n')).text).uses
      expect(fresh.map(use => use.role)).toEqual(uses.map(use => use.role))
      expect(things(fresh)).toEqual(things(uses))
    }),
    { seed, numRuns: 2000 },
  )
  expect(renames).toBeGreaterThan(200)
})

function flat(entries: readonly Entry[]): Entry[] {
  return entries.flatMap(entry => [entry, ...flat(entry.children)])
}
