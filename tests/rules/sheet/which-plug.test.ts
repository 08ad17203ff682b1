import { test } from 'vitest'
import { dishSheet, expectSheet } from '../dish.ts'

test('a point where nothing stands', () =>
  expectSheet(
    JSON.stringify(dishSheet({ glue: { insert: { plug: 'plug', into: 'pocket', pieces: [[1, 1]] } } })),
    ['[[1,1]]: sheet/which-plug'],
    'run',
  ))

test('a point on the plug', () =>
  expectSheet(
    JSON.stringify(
      dishSheet({ glue: { insert: { plug: 'plug', into: 'pocket', pieces: [[20, 20]], glueLine: 0.1 } } }),
    ),
    [],
    'run',
  ))
