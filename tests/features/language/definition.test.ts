import { describe, expect, test } from 'vitest'
import { definitionsOf } from '../../../server/src/features/language/definition.ts'
import { BAD_TEXTS, expectPlaces, marked, place, reading } from './marked.ts'

function expectDefinition(source: string): void {
  const given = marked(source)
  expectPlaces(
    definitionsOf(given.text, given.caret).map(span => place(span, 'here')),
    given,
  )
}

describe('the definition', () => {
  test('of a parameter is where it was last set above', () => {
    expectDefinition(`
      #<depth>=2
      #<depth>=3
    //^^^^^^^^ here
      G1 Z[0-#<Depth>|] #<depth>=4
      #<depth>=5
    `)
    expectDefinition(`
      G1 Z#5|
      #5=1
    //^^ here
    `)
    expectDefinition(`
      #5=1
      #|5=2
    //^^ here
    `)
    expectDefinition(`
      X#[1+1]
      X##|2
      #2=1
    //^^ here
    `)
  })

  test('of a parameter that a call hands over is the SUB', () => {
    expectDefinition(`
      #1=5
      o100 sub
    // ^^^ here
      G1 X#|1
      o100 endsub
      o100 call [3]
    `)
    expectDefinition(`
      #31=5
    //^^^ here
      o100 sub
      G1 X#|31
      o100 endsub
    `)
  })

  test('of a subprogram is where it begins', () => {
    expectDefinition(`
      o100 sub
    // ^^^ here
      o100 endsub
      o1|00 call
    `)
    expectDefinition(`
      o<edge pass>| call
      M2
      o<edgepass> sub
    // ^^^^^^^^^^ here
      o<edgepass> endsub
    `)
    expectDefinition(`
      M98 P2|00
      M30
      O0200
    // ^^^^ here
      M99
    `)
  })

  test('of the rest of a block is what opens it', () => {
    expectDefinition(`
      o1 do
    // ^ here
      o1| while [0]
      o1 while [0]
      o1 endwhile
    `)
    expectDefinition(`
      o1 do
      o1 while [0]
      o1 while [0]
    // ^ here
      o1| endwhile
    `)
    expectDefinition(`
      o7 if [1]
    // ^ here
      o7 else
      o|7 endif
    `)
  })

  test('of a line number is the line', () => {
    expectDefinition(`
      N10| G0
    //^^^ here
      N20 G1
    `)
  })

  test('is nowhere for what is not named, not there, or in a comment', () => {
    expectDefinition('G1| X1')
    expectDefinition('M98 P7|')
    expectDefinition('(#1| is the depth)\n#1=2')
    expectDefinition('G1 X#1|')
  })

  test.each(BAD_TEXTS)('bad text %# is answered', source => {
    const { text } = reading(source)
    for (const character of [0, 1, 2, 5]) expect(definitionsOf(text, { line: 0, character })).toBeInstanceOf(Array)
    expect(definitionsOf(text, { line: 99_999, character: 3 })).toEqual([])
  })
})
