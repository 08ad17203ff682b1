import type { Legs } from './legs.ts'

/**
 * Seconds that each leg takes, run one after the other from rest to rest, none slower than it must be: looking ahead,
 * no leg ends faster than the ones behind it can take up or brake from; looking back, none begins faster than those
 * before it can reach. Within a leg the speed goes up, stays and goes down with the leg's acceleration: d/v + v/a from
 * rest to rest, 2 sqrt(d/a) where v is not reached.
 */
export function planned({ count, length, speed, acceleration, cornerSquare }: Legs): Float64Array {
  const seconds = new Float64Array(count)
  /** Square of the speed at which each leg begins. */
  const begins = new Float64Array(count + 1)
  let behind = 0
  for (let n = count - 1; n >= 0; n--) {
    const own = speed[n] * speed[n]
    const before = n > 0 ? speed[n - 1] * speed[n - 1] : 0
    behind = Math.min(cornerSquare[n], own, before, behind + 2 * acceleration[n] * length[n])
    begins[n] = behind
  }
  for (let n = 0; n < count; n++) {
    const a = acceleration[n]
    const from = begins[n]
    const reached = from + 2 * a * length[n]
    if (reached < begins[n + 1]) begins[n + 1] = reached
    const to = begins[n + 1]
    const top = Math.min(speed[n] * speed[n], (reached + to) / 2)
    const ramps = (2 * top - from - to) / (2 * a)
    const peak = Math.sqrt(top)
    seconds[n] = (2 * peak - Math.sqrt(from) - Math.sqrt(to)) / a + Math.max(0, length[n] - ramps) / peak
  }
  return seconds
}
