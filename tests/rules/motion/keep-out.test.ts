import { test } from 'vitest'
import { expectPart } from '../job.ts'

test('over a clamp, too low', () => {
  expectPart(
    `
    G21 G90 M3 S16000
    G0 Z5
    G0 X10 Y70
    //<^^ motion/keep-out: the bit runs into a clamp
    G0 Z20
    M30
  `,
    {
      rest: {
        keepOut: [
          {
            setup: 'part',
            box: [
              [0, 60],
              [15, 80],
            ],
            height: 12,
          },
        ],
      },
    },
  )
})

test('high enough over it', () => {
  expectPart(
    `
    G21 G90 M3 S16000
    G0 Z13
    G0 X10 Y70
    G0 Z20
    M30
  `,
    {
      rest: {
        keepOut: [
          {
            setup: 'part',
            box: [
              [0, 60],
              [15, 80],
            ],
            height: 12,
          },
        ],
      },
    },
  )
})

test('round it', () => {
  expectPart(
    `
    G21 G90 M3 S16000
    G0 Z5
    G0 X19 Y70
    G0 Z20
    M30
  `,
    {
      rest: {
        keepOut: [
          {
            setup: 'part',
            box: [
              [0, 60],
              [15, 80],
            ],
            height: 12,
          },
        ],
      },
    },
  )
})
