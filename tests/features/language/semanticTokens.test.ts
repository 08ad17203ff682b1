import { describe, expect, test } from 'vitest'
import { semanticTokens } from '../../../server/src/features/language/semanticTokens.ts'
import { BAD_TEXTS, expectPlaces, marked, place, reading } from './marked.ts'

function expectTokens(source: string): void {
  const given = marked(source)
  const tokens = semanticTokens(given.text)
  expectPlaces(
    tokens.map(({ span, type, modifiers }) => place(span, [type, ...modifiers].join('.'))),
    given,
  )
}

describe('semantic tokens', () => {
  test('of words', () => {
    expectTokens(`
      % / N10 G0 G2 G17 X-1.5 F 300 T2 M6 (why)
    //^ keyword
    //  ^ keyword
    //    ^^^ label
    //        ^^ keyword.rapid
    //           ^^ keyword.cut
    //              ^^^ function
    //                  ^ property
    //                   ^^^^ number
    //                        ^ property.rate
    //                          ^^^ number
    //                              ^^ class
    //                                 ^^ function
    //                                    ^^^^^ comment
      g38.2 z-1 ; down
    //^^^^^ keyword.cut
    //      ^ property
    //       ^^ number
    //          ^^^^^^ comment
      G80 S1*57
    //^^^ function
    //    ^ property.rate
    //     ^ number
    //      ^^^ comment
      $110=500
    //^^^^^^^^ macro
    `)
  })

  test('of expressions and settings', () => {
    expectTokens(`
      #<depth> = [#1 mod 2 - sin[30]]
    //^^^^^^^^ variable.modification
    //         ^ operator
    //            ^^ variable
    //               ^^^ operator
    //                   ^ number
    //                     ^ operator
    //                       ^^^ function.defaultLibrary
    //                           ^^ number
      Y##2 Z[2**#<a>]
    //^ property
    // ^ variable
    //  ^^ variable
    //     ^ property
    //       ^ number
    //        ^^ operator
    //          ^^^^ variable
      G#1
    //^ function
    // ^^ variable
    `)
  })

  test('of O words and calls', () => {
    expectTokens(`
      O100 sub
    //^ keyword
    // ^^^ function.definition
    //     ^^^ keyword
      o<moat> call [#1] [2.5]
    //^ keyword
    // ^^^^^^ function
    //        ^^^^ keyword
    //              ^^ variable
    //                   ^^^ number
      O200
    //^ keyword
    // ^^^ function.definition
      M98 P200 L2
    //^^^ function
    //    ^ property
    //     ^^^ function
    //         ^ property
    //          ^ number
      G4 P2
    //^^ function
    //   ^ property
    //    ^ number
      O1 whatever
    //^ keyword
    // ^ function
    `)
  })

  test('what is no word has none, and the rest of its line keeps its own', () => {
    expectTokens(`
      X1..5 Y2 ?? (open
    //      ^ property
    //       ^ number
    //            ^^^^^ comment
      X[1+[2 Y3
    //^ property
    //  ^ number
    //   ^ operator
    //     ^ number
    //        ^ number
    `)
  })

  test('a comment that silences a finding stands out', () => {
    expectTokens(`
      (allow plunge/rapid: into the hole) (allowed)
    //^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^ comment.documentation
    //                                    ^^^^^^^^^ comment
      ; Allow plunge/rapid
    //^^^^^^^^^^^^^^^^^^^^ comment.documentation
    `)
  })

  test('columns are UTF-16 units', () => {
    expectTokens(`
      (🪵 dübel) G1
    //^^^^^^^^^^ comment
    //           ^^ keyword.cut
    `)
  })

  test('only of the lines asked for, at no more than their cost', () => {
    const { text } = reading('G1 X1\n'.repeat(50_000))
    expect(semanticTokens(text, 40_000, 40_001).map(({ span }) => place(span, ''))).toEqual(
      [40_000, 40_001].flatMap(line => [`${line}:0-2 `, `${line}:3-4 `, `${line}:4-5 `]),
    )
    expect(semanticTokens(text, -5, 0)).toHaveLength(3)
    expect(semanticTokens(text, 60_000, 70_000)).toEqual([])
    expect(semanticTokens(text, 10, 5)).toEqual([])
  })

  test.each(BAD_TEXTS)('in order and apart on bad text %#', source => {
    const { text } = reading(source)
    let before = { line: -1, end: 0 }
    const lengths = Array.from({ length: text.lineCount }, (_, line) => text.line(line).length)
    for (const { span } of semanticTokens(text)) {
      expect(span.end).toBeGreaterThan(span.start)
      expect(span.line > before.line || span.start >= before.end).toBe(true)
      expect(span.end).toBeLessThanOrEqual(lengths[span.line])
      before = span
    }
  })
})
