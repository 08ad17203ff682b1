import * as THREE from 'three'

const TURN_MS = 620

/** How the piece is turned in the shop, and the turn-over from one lie to the next, as a hand would do it. */
export interface Turning {
  readonly now: THREE.Quaternion
  /** Lifted off the bench, mm. */
  readonly lift: () => number
  readonly moving: () => boolean
  to(goal: THREE.Quaternion, animate: boolean): void
  /** Goes on to a time (ms); `height`: how far it is lifted half way, mm. True while it moves. */
  step(time: number, height: number): boolean
}

export function newTurning(): Turning {
  const from = new THREE.Quaternion()
  const now = new THREE.Quaternion()
  const goal = new THREE.Quaternion()
  let began = -1
  let lift = 0
  return {
    now,
    lift: () => lift,
    moving: () => began >= 0,
    to(next, animate) {
      goal.copy(next)
      if (!animate || now.angleTo(goal) < 0.01) {
        now.copy(goal)
        began = -1
        lift = 0
      } else {
        from.copy(now)
        began = performance.now()
      }
    },
    step(time, height) {
      if (began < 0) return false
      const t = Math.min(1, (time - began) / TURN_MS)
      const eased = t * t * (3 - 2 * t)
      now.slerpQuaternions(from, goal, eased)
      lift = t < 1 ? Math.sin(Math.PI * eased) * height : 0
      if (t >= 1) began = -1
      return t < 1
    },
  }
}
