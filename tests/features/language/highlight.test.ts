import { describe, expect, test } from 'vitest'
import { highlightsAt } from '../../../server/src/features/language/highlight.ts'
import { wordsInForce } from '../../../server/src/features/language/inForce.ts'
import { BAD_TEXTS, expectPlaces, marked, place, reading } from './marked.ts'

function expectHighlights(source: string): void {
  const given = marked(source)
  expectPlaces(
    highlightsAt(given.text, () => given.program, given.caret).map(({ span, sets }) =>
      place(span, sets ? 'sets' : 'reads'),
    ),
    given,
  )
}

describe('the words in force', () => {
  test('are those that were said last', () => {
    expectHighlights(`
      G20 G90 G17
    //    ^^^ sets
    //        ^^^ sets
      G21
    //^^^ sets
      S12000 M3 F100
    //^^^^^^ sets
    //       ^^ sets
      G0 X0 F200
      G1 Z-1 F300
    //^^ sets
    //       ^^^^ sets
      X1|0
      G2 X1 R5 F400
    `)
  })

  test('hold on the line that says them, and a move in machine coordinates does not count', () => {
    expectHighlights(`
      G1 X1 F100
      G53 G0| Z0 F5
    //    ^^ sets
    //          ^^ sets
    `)
    expectHighlights(`
      G1 F100
    //^^ sets
    //   ^^^^ sets
      G4 P1
      G92 X0
      M0
      X|1
    `)
  })

  test('of the bit are T and the M6 that put it in; that stops the spindle', () => {
    expectHighlights(`
      M3 T1
      M6
      T2
    //^^ sets
      M6
    //^^ sets
      T3
      X|1
    `)
    expectHighlights(`
      T1
    //^^ sets
      X|1
      T2
    `)
    expectHighlights(`
      T1
      X|1
      T2 M6
    `)
  })

  test('of the bit: T is read before M6, and M3 after it, however they stand', () => {
    expectHighlights(`
      M3 M6 T1
    //^^ sets
    //   ^^ sets
    //      ^^ sets
      X|1
    `)
  })

  test('in inverse time: an F of the move itself, and none of the other kind', () => {
    expectHighlights(`
      F100
      G93
    //^^^ sets
      G1 X1 F2
    //^^ sets
      X|2
    `)
    expectHighlights(`
      G93 F2
      G94
    //^^^ sets
      X|2
    `)
  })

  test('are those of nobody after the end', () => {
    expectHighlights(`
      G21 F100
      M2
      X|1
    `)
  })

  test('after a jump are what the lines since say, or what every way to the line has in common', () => {
    expectHighlights(`
      G21 G1 F100 S9 M3
    //       ^^^^ sets
    //            ^^ sets
    //               ^^ sets
      G0 Z5
      o1 repeat [3]
      G91
    //^^^ sets
      X|1
      o1 endrepeat
      M2
    `)
    expectHighlights(`
      G21 G91 F100
      M98 P5
      F200
      M98 P5
      M2
      O5
      G1 X|1
    //^^ sets
      M99
    `)
  })

  test('pass over a subprogram where it stands', () => {
    expectHighlights(`
      G21
    //^^^ sets
      o1 sub
      G20 T1 M6
      o1 endsub
      X|1
      o1 call
    `)
    expectHighlights(`
      G21
      o1 sub
      G90
    //^^^ sets
      X|1
      o1 endsub
    `)
  })

  test('are worked out of expressions too', () => {
    expectHighlights(`
      F[50*2]
    //^^^^^^^ sets
      G1| X1
    //^^ sets
    `)
  })
})

describe('what is named', () => {
  test('is highlighted wherever it is used', () => {
    expectHighlights(`
      F100
      #5=1
    //^^ sets
      X#|5 Y#5
    // ^^ reads
    //     ^^ reads
    `)
    expectHighlights(`
      o5 sub
    // ^ sets
      o5 endsub
    // ^ reads
      o5| call
    // ^ reads
    `)
  })

  test('is nothing in a comment', () => {
    expectHighlights('F100\n(#|5)')
    expectHighlights('F100\nG1 X1 ; wh|y')
  })
})

test('are the same wherever the caret comes from', () => {
  const words = [
    'G0',
    'G1',
    'F100',
    'F200',
    'S9',
    'M3',
    'T1',
    'T2 M6',
    'M6 M3 T4',
    'G20',
    'G93',
    'X1',
    'o1 call',
    'M98 P1',
  ]
  const subs = ['o1 sub', 'o1 endsub', 'M2']
  const pick = (list: readonly string[], i: number) => list[(i * 7919 + (i >> 3)) % list.length]
  const source = Array.from({ length: 13_000 }, (_, i) =>
    i % 1500 === 1499 ? pick(subs, i) : i % 9 ? 'X2' : pick(words, i),
  )
  const { text, program } = reading(source.join('\n'))
  for (const line of [12_999, 5, 8192, 4096, 4095, 12_288, 9000, 1500]) {
    expect(wordsInForce(text, () => program, line)).toEqual(
      wordsInForce(reading(source.join('\n')).text, () => program, line),
    )
  }
})

test('reach over a long program', () => {
  const { text, program } = reading(`F100\n${'X1\nX2\n'.repeat(50_000)}`)
  expect(wordsInForce(text, () => program, 100_000)).toEqual([{ line: 0, start: 0, end: 4 }])
})

test.each(BAD_TEXTS)('bad text %# is answered', source => {
  const { text, program } = reading(source)
  for (const character of [0, 1, 2, 5]) {
    expect(highlightsAt(text, () => program, { line: 0, character })).toBeInstanceOf(Array)
  }
  expect(highlightsAt(text, () => program, { line: 9_999, character: 0 })).toEqual([])
})
