import type { EdgeGrid } from './edgeGrid.ts'
import { isAstray, type Pose, tightestOf, toPlug, type WallSamples } from './seat.ts'

/** Only places this much looser than the tightest can become the tightest while polishing, mm. */
const REACH = 0.6

/** First step, and the step at which it is done, mm. */
const FIRST = 0.1
const LAST = 2e-4

const MOST = 220

type Vertex = { readonly move: readonly [number, number, number]; readonly gap: number }

/**
 * A better pose near one in which parts overlap. Within the plug the nearest wall jumps from side to side, and slopes
 * mislead; so the least gap itself is climbed without them (Nelder and Mead's simplex, begun anew from its best until
 * that gains nothing).
 */
export function polish(
  samples: WallSamples,
  walls: readonly EdgeGrid[],
  start: Pose,
): { pose: Pose; tightest: number } {
  const now = tightestOf(samples, walls, start)
  const near: WallSamples = { x: [], y: [], wall: [] }
  let squares = 0
  for (let i = 0; i < samples.x.length; i++) {
    const [x, y] = toPlug(start, samples.x[i], samples.y[i])
    squares += x * x + y * y
    if (walls[samples.wall[i]].distance(x, y) > now + REACH) continue
    near.x.push(samples.x[i])
    near.y.push(samples.y[i])
    near.wall.push(samples.wall[i])
  }
  const lever = Math.max(1e-3, Math.sqrt(squares / Math.max(1, samples.x.length)))
  const poseOf = ([x, y, t]: Vertex['move']): Pose => ({
    x: start.x + x,
    y: start.y + y,
    turn: start.turn + t / lever,
  })
  const vertex = (move: Vertex['move']): Vertex => {
    const pose = poseOf(move)
    return { move, gap: isAstray(pose, start, lever) ? Number.NEGATIVE_INFINITY : tightestOf(near, walls, pose) }
  }
  let best = vertex([0, 0, 0])
  for (let round = 0, step = FIRST; round < 4; round++, step /= 2) {
    const found = climb(best, step, vertex)
    const gain = found.gap - best.gap
    if (gain > 0) best = found
    if (gain < LAST && round > 0) break
  }
  const pose = poseOf(best.move)
  const tightest = tightestOf(samples, walls, pose)
  return tightest > now ? { pose, tightest } : { pose: start, tightest: now }
}

function climb(from: Vertex, step: number, vertex: (move: Vertex['move']) => Vertex): Vertex {
  const [x, y, t] = from.move
  const simplex = [from, vertex([x + step, y, t]), vertex([x, y + step, t]), vertex([x, y, t + step])]
  for (let evaluations = 0; evaluations < MOST; evaluations++) {
    simplex.sort((a, b) => b.gap - a.gap)
    const [best, , third, worst] = simplex
    const spread = Math.max(...simplex.map(v => Math.hypot(...v.move.map((m, i) => m - best.move[i]))))
    if (spread < LAST) break
    const middle = [0, 1, 2].map(i => (simplex[0].move[i] + simplex[1].move[i] + simplex[2].move[i]) / 3)
    const along = (by: number): Vertex => {
      const [a, b, c] = middle.map((m, i) => m + by * (m - worst.move[i]))
      return vertex([a, b, c])
    }
    const mirrored = along(1)
    if (mirrored.gap > best.gap) {
      const farther = along(2)
      simplex[3] = farther.gap > mirrored.gap ? farther : mirrored
    } else if (mirrored.gap > third.gap) simplex[3] = mirrored
    else {
      const nearer = along(mirrored.gap > worst.gap ? 0.5 : -0.5)
      if (nearer.gap > Math.max(worst.gap, mirrored.gap)) simplex[3] = nearer
      else {
        for (let i = 1; i < 4; i++) {
          const [a, b, c] = simplex[i].move.map((m, k) => (m + best.move[k]) / 2)
          simplex[i] = vertex([a, b, c])
        }
      }
    }
  }
  return simplex.sort((a, b) => b.gap - a.gap)[0]
}
