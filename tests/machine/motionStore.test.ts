import { expect, it } from 'vitest'
import { MotionStore } from '../../server/src/machine/motionStore.ts'

it.each([10, 99_992, 100_000])('keeps every column of each motion while it grows from room for %i', size => {
  const store = new MotionStore(size)
  const count = 210_000
  for (let n = 0; n < count; n++) store.add(n % 4, n % 7, n + 0.25, -n, n / 8, n + 1, n % 1000, n - 1)
  let wrong = 0
  for (let n = 0; n < count; n++) {
    if (
      store.kind[n] !== n % 4 ||
      store.flags[n] !== n % 7 ||
      store.x[n] !== n + 0.25 ||
      store.y[n] !== -n ||
      store.z[n] !== n / 8 ||
      store.line[n] !== n + 1 ||
      store.state[n] !== n % 1000 ||
      store.arc[n] !== n - 1
    ) {
      wrong++
    }
  }
  expect({ count: store.count, wrong }).toEqual({ count, wrong: 0 })
})
