import { test } from 'vitest'
import { expectPart } from '../job.ts'

test('nothing has started it', () => {
  expectPart(
    `
    G21 G90
    G0 Z5
    G0 X20 Y30
    G1 Z-3 F250
    //<^^ spindle/stopped: nothing has started the spindle
    G1 X80 F1600
    G0 Z20
    M30
  `,
    {},
    { ignore: ['plunge/onto-floor'] },
  )
})

test('M5 for M3', () => {
  expectPart(
    `
    G21 G90 S16000 M5
    //             ^^ spindle/stopped: line 4 cuts with it standing
    G0 Z5
    G0 X20 Y30
    G1 Z-3 F250
    G1 X80 F1600
    G0 Z20
    M30
  `,
    {},
    { ignore: ['plunge/onto-floor'] },
  )
})

test('switched by hand', () => {
  expectPart(
    `
    G21 G90
    G0 Z5
    G0 X20 Y30
    G1 Z-3 F250
    G1 X80 F1600
    G0 Z20
    M30
  `,
    { machine: { spindle: { manual: true, speed: 16000 } } },
    { ignore: ['plunge/onto-floor'] },
  )
})

test('no wood, no harm', () => {
  expectPart(`
    G21 G90
    G0 Z5
    G1 X80 F1600
    M5
    G0 Z20
    M30
  `)
})

test('a change of bit is not what stops a spindle that nothing has started', () => {
  expectPart(
    `
    G21 G90 T1 M6
    G0 Z5
    G0 X20 Y30
    G1 Z-3 F250
    //<^^ spindle/stopped: nothing has started the spindle
    G1 X80 F1600
    G0 Z20
    M30
  `,
    {},
    { ignore: ['plunge/onto-floor'] },
  )
})

test('a change of bit that stops the spindle', () => {
  expectPart(
    `
    G21 G90 M3 S16000
    T1 M6
    // ^^ spindle/stopped: line 5 cuts with it standing
    G0 Z5
    G0 X20 Y30
    G1 Z-3 F250
    G1 X80 F1600
    G0 Z20
    M30
  `,
    {},
    { ignore: ['plunge/onto-floor'] },
  )
})
