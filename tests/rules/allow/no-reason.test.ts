import { expect, test } from 'vitest'
import { expectText } from '../annotated.ts'

test('silenced, and nobody says why', () => {
  const { suppressed } = expectText(`
    G21 G90
    G0 X20 Y20 (allow motion/unsafe-start)
    //         ^^^^^^^^^^^^^^^^^^^^^^^^^^^ allow/no-reason: (allow motion/unsafe-start: reason)
    M30
  `)
  expect(suppressed.map(({ code }) => code)).toEqual(['motion/unsafe-start'])
})

test('silenced with a reason', () => {
  const { suppressed } = expectText(`
    G21 G90
    G0 X20 Y20 (allow motion/unsafe-start: raised by hand before every start)
    M30
  `)
  expect(suppressed.map(({ reason }) => reason)).toEqual(['raised by hand before every start'])
})
