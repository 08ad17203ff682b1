import { expect, test } from 'vitest'
import { expectText } from '../annotated.ts'

test('nothing there to silence', () => {
  expectText(`
    G21 G90
    G0 Z5 ; allow motion/unsafe-start: raised by hand
    //    ^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^ allow/unused: finds nothing on this line
    M30
  `)
})

test('a finding that does not exist', () => {
  expectText(`
    G21 G90
    G0 Z5 (allow motion/unsafe-strat: raised by hand)
    //    ^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^ allow/unused: no finding called motion/unsafe-strat
    M30
  `)
})

test('a rule that could not run may still be needed', () => {
  expectText(`
    G21 G90
    G0 Z5 (allow plunge/rapid: into the slot)
    M30
  `)
})

test('alone on the line before, two of them, and a comment that only begins like one', () => {
  const { suppressed } = expectText(`
    G21 G90
    (allow motion/unsafe-start: raised by hand)
    N30 (allow feed/missing: the feed is set by hand)
    G1 X20 Y20 (allow the glue to dry)
    M30
  `)
  expect(suppressed.map(({ code }) => code).sort()).toEqual(['feed/missing', 'motion/unsafe-start'])
})

test('switched off, it says nothing', () => {
  expectText(
    `
    G21 G90
    G0 Z5 (allow motion/unsafe-start: raised by hand)
    M30
  `,
    { options: { severity: { 'allow/unused': 'off' } } },
  )
})
