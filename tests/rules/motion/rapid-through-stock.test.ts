import { test } from 'vitest'
import { expectPart } from '../job.ts'

test('a retract that was forgotten', () => {
  expectPart(
    `
    G21 G90 M3 S16000
    G0 Z5
    G0 X30 Y30
    G1 Z-3 F250
    G1 X70 F1500
    G0 X30 Y60
    //<^^ motion/rapid-through-stock: at Z-3 through wood that is still there, up to 3 mm deep
    G0 Z20
    M30
  `,
    {},
    { ignore: ['plunge/onto-floor'] },
  )
})

test('several sides at one height are one mistake', () => {
  expectPart(
    `
    G21 G90 M3 S16000
    G0 Z5
    G0 X30 Y30
    G1 Z-3 F250
    G1 X70 F1500
    G0 Y60
    //<^^ motion/rapid-through-stock: It holds for 2 moves, from line 6 to line 7
    X30
    G0 Z20
    M30
  `,
    {},
    { ignore: ['plunge/onto-floor'] },
  )
})

test('back through the slot just cut', () => {
  expectPart(
    `
    G21 G90 M3 S16000
    G0 Z5
    G0 X30 Y30
    G1 Z-3 F250
    G1 X70 F1500
    G0 X30
    G0 Z20
    M30
  `,
    {},
    { ignore: ['plunge/onto-floor'] },
  )
})

test("what runs at the depth of a rapid that went down is that one's doing", () => {
  expectPart(`
    G21 G90 M3 S16000
    G0 Z5
    G0 X30 Y30
    G0 Z-3
    // ^^^ plunge/rapid
    G0 X70
    G0 Z20
    M30
  `)
})

test('travels at one height that rapids rose to are one mistake', () => {
  expectPart(
    `
    G21 G90 M3 S16000
    G0 Z5
    G0 X20 Y20
    G1 Z-3 F200
    G1 X60 F1500
    G0 Z-1
    G0 X20 Y30
    //<^^ motion/rapid-through-stock: It holds for 2 moves, from line 7 to line 12.
    G0 Z0.5
    G1 Z-3 F200
    G1 X60 F1500
    G0 Z-1
    G0 X20 Y40
    G0 Z20
    M30
  `,
    {},
    { ignore: ['plunge/onto-floor', 'plunge/rapid'] },
  )
})
