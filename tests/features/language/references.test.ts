import { describe, expect, test } from 'vitest'
import { referencesOf } from '../../../server/src/features/language/references.ts'
import { BAD_TEXTS, expectPlaces, marked, place, reading } from './marked.ts'

function expectReferences(source: string, withDeclaration = true): void {
  const given = marked(source)
  expectPlaces(
    referencesOf(given.text, given.caret, withDeclaration).map(span => place(span, 'here')),
    given,
  )
}

describe('references', () => {
  test('of a parameter, however it is written', () => {
    expectReferences(`
      #005=1 (#5 in a comment)
    //^^^^ here
      X# 5| Y#50 Z[#5*2] #6=#5
    // ^^^ here
    //            ^^ here
    //                     ^^ here
      #<5>=2
    `)
  })

  test('without its declaration', () => {
    expectReferences(
      `
      #5=1
      X#5| #5=2
    // ^^ here
    //    ^^ here
    `,
      false,
    )
  })

  test('of a parameter of a subprogram: only there', () => {
    const program = `
      #<a>=1
      o100 sub
      #<a>=2
    //^^^^ here
      X#<a>| #<_a>=3
    // ^^^^ here
      o100 endsub
      X#<a>
    `
    expectReferences(program)
  })

  test('of a parameter of all subprograms: everywhere', () => {
    expectReferences(`
      #<_a>|=1
    //^^^^^ here
      o100 sub
      X#<_a> Y#31
    // ^^^^^ here
      o100 endsub
    `)
  })

  test('of a subprogram: its lines, its calls', () => {
    expectReferences(`
      o1|00 sub
    // ^^^ here
      o100 return
    // ^^^ here
      o100 endsub
    // ^^^ here
      O 100 call [1]
    //  ^^^ here
      M98 P100
    //     ^^^ here
      G4 P100
      o1000 call
    `)
  })

  test('of a line number: every line that has it', () => {
    expectReferences(`
      N10| G0
    //^^^ here
      N0010 G1
    //^^^^^ here
      N100
    `)
  })

  test.each(BAD_TEXTS)('bad text %# is answered', source => {
    const { text } = reading(source)
    for (const character of [0, 1, 2, 5]) {
      expect(referencesOf(text, { line: 0, character }, true)).toBeInstanceOf(Array)
    }
  })
})
