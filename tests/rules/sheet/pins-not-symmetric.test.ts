import { test } from 'vitest'
import { dishSheet, expectSheet } from '../dish.ts'

test('pins that do not land on one another', () =>
  expectSheet(
    JSON.stringify(
      dishSheet({
        cavity: {
          locate: {
            by: 'pins',
            pins: [
              [5, 40],
              [70, 40],
            ],
          },
        },
      }),
    ),
    ['[[5,40],[70,40]]: sheet/pins-not-symmetric'],
  ))

test('pins that do', () =>
  expectSheet(
    JSON.stringify(
      dishSheet({
        cavity: {
          locate: {
            by: 'pins',
            pins: [
              [5, 40],
              [75, 40],
            ],
          },
        },
      }),
    ),
    [],
  ))
