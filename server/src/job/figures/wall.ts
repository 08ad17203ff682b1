import { pointAsReceived } from '../../stock/lie.ts'
import { pathOf } from '../../stock/path.ts'
import { profileOf, radiusAt } from '../../stock/profile.ts'
import type { Chain, Step } from '../chain.ts'
import type { Figure, Run } from '../outcome.ts'
import { sameLie } from '../reading/crossCheck.ts'
import { figure } from './origin.ts'
import { mm } from './pencil.ts'
import { stepsMaking } from './piece.ts'
import { nearestPair, type Strip } from './strips.ts'

/** Heights looked at between the deepest cut of the cavity and its rim. */
const HEIGHTS = 9

/**
 * Least horizontal distance, at any height, from the cavity to the outline, or to the blank's edge: by the paths of the
 * bits themselves, not by cells. Nothing where there is no cavity.
 */
export function wallFigure(chain: Chain): Figure | undefined {
  const cavities = stepsMaking(chain, 'cavity')
  const rim = rimOf(cavities)
  if (rim === undefined) return undefined
  const tips = cavities.flatMap(step => cutStrips(step, chain, [])).map(({ low }) => low)
  const deepest = tips.reduce((a, b) => Math.min(a, b), rim)
  const heights = Array.from({ length: HEIGHTS }, (_, n) => deepest + ((rim - deepest) * n) / (HEIGHTS - 1))
  let least: { wall: number; at: readonly [number, number]; clamped: number; to: string } | undefined
  for (const cavity of cavities) {
    const inner = cutStrips(cavity, chain, heights)
    const edge = toEdge(inner, chain)
    if (edge && (!least || edge.wall < least.wall)) {
      least = { ...edge, clamped: reclamped(chain, undefined, cavity), to: "the blank's edge" }
    }
    for (const outline of stepsMaking(chain, 'outline')) {
      const pair = nearestPair(inner, cutStrips(outline, chain, heights))
      if (pair && (!least || pair.gap < least.wall)) {
        least = { wall: pair.gap, at: pair.at, clamped: reclamped(chain, cavity, outline), to: 'the outline' }
      }
    }
  }
  if (!least) return undefined
  const { register, sanding } = chain.sheet.tolerances
  const wall = Math.max(0, least.wall)
  return figure(
    wall,
    register * least.clamped,
    { at: least.at, sum: `${mm(wall)} from the cavity to ${least.to}` },
    sanding,
  )
}

/** Height of the face that the cavities were cut into, outwards positive from the cavity's side. */
function rimOf(cavities: readonly Step[]): number | undefined {
  const levels = cavities.flatMap(({ run }) => (run ? [run.faceLevel] : []))
  return levels.length ? levels.reduce((a, b) => Math.max(a, b)) : undefined
}

/**
 * The straight parts of what a run cut, blank frame, with the radius of the bit at each of the heights (frame of the
 * stock as the cavity's face lies up: equal to the blank frame for the top face).
 */
function cutStrips({ run }: Step, chain: Chain, heights: readonly number[]): (Strip & { low: number })[] {
  if (!run) return []
  const strips: (Strip & { low: number })[] = []
  const path: number[] = []
  const { motions } = run.program
  const profiles = run.bitOfState.map(bit => bit && profileOf(bit))
  for (let n = 0; n < motions.count; n++) {
    const profile = profiles[motions.state[n]]
    if (!profile || !(run.engagement.volume[n] > 0)) continue
    pathOf(motions, n, run.shift, path)
    for (let k = 0; k + 5 < path.length; k += 3) {
      const a = received(path, k, run, chain)
      const b = received(path, k + 3, run, chain)
      const low = Math.min(path[k + 2], path[k + 5])
      const radii = heights.map(height => {
        const above = upFrom(height, run, chain) - low
        return above < 0 ? Number.NEGATIVE_INFINITY : radiusAt(profile, above)
      })
      strips.push({ ax: a[0], ay: a[1], bx: b[0], by: b[1], radii, low })
    }
  }
  return strips
}

const received = (path: readonly number[], k: number, run: Run, chain: Chain) =>
  pointAsReceived([path[k], path[k + 1], path[k + 2]], run.setup.lie, {
    width: chain.blank.width,
    depth: chain.blank.depth,
    thickness: chain.thickness,
  })

/** A height over the cavity's downward face as the run sees it: turned over, it counts from the other face. */
function upFrom(height: number, run: Run, chain: Chain): number {
  const cavity = stepsMaking(chain, 'cavity')[0]?.run?.setup.lie.face
  return run.setup.lie.face === cavity ? height : chain.thickness - height
}

function toEdge(strips: readonly Strip[], { blank }: Chain) {
  let least: { wall: number; at: readonly [number, number] } | undefined
  const { width, depth, diameter } = blank
  for (const { ax, ay, bx, by, radii } of strips) {
    const radius = radii.reduce((a, b) => Math.max(a, b), Number.NEGATIVE_INFINITY)
    for (const [x, y] of [
      [ax, ay],
      [bx, by],
    ] as const) {
      const inside =
        diameter === undefined
          ? Math.min(x, y, width - x, depth - y)
          : diameter / 2 - Math.hypot(x - width / 2, y - depth / 2)
      if (!least || inside - radius < least.wall) least = { wall: inside - radius, at: [x, y] }
    }
  }
  return least
}

/** How often the blank was clamped anew between two steps; from nowhere: whether it was not in its first clamping. */
function reclamped({ steps }: Chain, from: Step | undefined, to: Step): number {
  const [first, last] = [from ? steps.indexOf(from) : 0, steps.indexOf(to)].sort((a, b) => a - b)
  let clampings = 0
  let held = steps[first]
  for (const step of steps.slice(first + 1, last + 1)) {
    const same = step.run && held.run && sameLie(step.run.setup, held.run.setup)
    if (!same && step.run) clampings++
    if (step.run || step.setup.kind !== 'program') held = step
  }
  return from ? clampings : Math.min(1, clampings)
}
