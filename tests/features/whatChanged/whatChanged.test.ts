import { expect, test } from 'vitest'
import { changedPlaces } from '../../../server/src/features/whatChanged/places.ts'
import { cutDifference } from '../../../server/src/features/whatChanged/whatChanged.ts'
import { cloneStock, EMPTY, newLayer, newStock, type Stock } from '../../../server/src/stock/stock.ts'

const board = () => newStock({ width: 40, depth: 20, thickness: 10 }, 0.5)

/** Lowers the top of a box of columns to a height. */
function lower(stock: Stock, [x0, y0, x1, y1]: readonly number[], to: number): Stock {
  const cut = cloneStock(stock)
  const { nx, cell } = cut.grid
  for (let j = y0 / cell; j < y1 / cell; j++) {
    for (let i = x0 / cell; i < x1 / cell; i++) cut.layers[0].hi[j * nx + i] = to
  }
  return cut
}

test('the same cut differs nowhere', () => {
  const cut = lower(board(), [2, 2, 12, 12], 6)
  const places = changedPlaces(cutDifference(cut, cloneStock(cut))!)
  expect(places).toEqual({ more: 0, less: 0, places: [], specks: 0 })
})

test('a pocket made deeper, and another made shallower, by volume, place and depth', () => {
  const before = lower(lower(board(), [2, 2, 12, 12], 6), [20, 5, 30, 10], 4)
  const after = lower(lower(board(), [2, 2, 12, 12], 5.2), [20, 5, 30, 10], 4.5)
  const { more, less, places, specks } = changedPlaces(cutDifference(before, after)!)
  // 10 x 10 x 0.8 and 10 x 5 x 0.5, by a pencil.
  expect(more).toBeCloseTo(80, 3)
  expect(less).toBeCloseTo(25, 3)
  expect(specks).toBe(0)
  expect(places.map(({ way, box }) => `${way} ${box.join(' to ')}`)).toEqual([
    'more 2,2 to 12,12',
    'less 20,5 to 30,10',
  ])
  expect(places[0].deepest).toBeCloseTo(0.8, 5)
  expect(places[1].deepest).toBeCloseTo(0.5, 5)
})

test('columns with air in them are compared by what is solid', () => {
  const before = board()
  const after = cloneStock(before)
  // A groove from the side: wood from 6 up, air from 3 to 6, wood below.
  after.layers.push(newLayer(after.grid.nx * after.grid.ny))
  after.layers[0].lo[100] = 6
  after.layers[1].hi[100] = 3
  after.layers[1].lo[100] = 0
  const difference = cutDifference(before, after)!
  expect([difference.more[100], difference.less[100]]).toEqual([3, 0])
  expect(cutDifference(after, before)!.less[100]).toBe(3)
  const gone = cloneStock(before)
  gone.layers[0].hi[100] = gone.layers[0].lo[100] = EMPTY
  expect(cutDifference(before, gone)!.more[100]).toBe(10)
})

test('what a hair of a wall does is counted, and is no place', () => {
  const before = lower(board(), [2, 2, 12, 12], 6)
  const after = lower(before, [12, 5, 12.5, 6], 6)
  const { more, places, specks } = changedPlaces(cutDifference(before, after)!)
  expect(more).toBeCloseTo(2, 5)
  expect([places, specks]).toEqual([[], 1])
})

test('blanks of other grids cannot be compared', () => {
  expect(cutDifference(board(), newStock({ width: 40, depth: 20, thickness: 10 }, 0.25))).toBeUndefined()
})
