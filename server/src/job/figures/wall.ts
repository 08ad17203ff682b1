import { pointAsReceived } from '../../stock/lie.ts'
import { pathOf } from '../../stock/path.ts'
import { profileOf, radiusAt } from '../../stock/profile.ts'
import type { Chain, Step } from '../chain.ts'
import type { Figure, Run } from '../outcome.ts'
import { reclamped } from './clampings.ts'
import { figure } from './origin.ts'
import { mm } from './pencil.ts'
import { stepsMaking } from './piece.ts'
import { merged, nearestPair, type Strip } from './strips.ts'

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
  const deepest = cavities.reduce((least, step) => Math.min(least, deepestCut(step)), rim)
  const heights = Array.from({ length: HEIGHTS }, (_, n) => deepest + ((rim - deepest) * n) / (HEIGHTS - 1))
  const outlines = stepsMaking(chain, 'outline').map(outline => ({
    outline,
    strips: cutStrips(outline, chain, heights),
  }))
  let least: { wall: number; at: readonly [number, number]; clamped: number; to: string } | undefined
  for (const cavity of cavities) {
    const inner = cutStrips(cavity, chain, heights)
    const edge = toEdge(inner, chain)
    if (edge && (!least || edge.wall < least.wall)) {
      least = { ...edge, clamped: reclamped(chain, undefined, cavity), to: "the blank's edge" }
    }
    for (const { outline, strips } of outlines) {
      const pair = nearestPair(inner, strips)
      if (pair && (!least || pair.gap < least.wall)) {
        least = { wall: pair.gap, at: pair.at, clamped: reclamped(chain, cavity, outline), to: 'the outline' }
      }
    }
  }
  if (!least) return undefined
  const { register, sanding } = chain.sheet.tolerances
  // Chords lie up to 0.002 mm inside their arcs on both sides: more decimals would be false.
  const wall = Math.max(0, Math.round(least.wall * 100) / 100)
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
function cutStrips({ run }: Step, chain: Chain, heights: readonly number[]): readonly Strip[] {
  if (!run) return []
  // What a run did to the wood tells its path and its bits; how the wood lay, and the heights, it does not.
  const key = JSON.stringify([
    run.shift,
    run.setup.lie,
    chain.thickness,
    heights,
    stepsMaking(chain, 'cavity')[0]?.run?.setup.lie.face,
  ])
  const known = STRIPS.get(run.engagement)
  if (known?.key === key) return known.strips
  const strips = findStrips(run, chain, heights)
  STRIPS.set(run.engagement, { key, strips })
  return strips
}

/** What a run swept, by what it did to the wood: kept where no edit touched it. */
const STRIPS = new WeakMap<Run['engagement'], { readonly key: string; readonly strips: readonly Strip[] }>()

function findStrips(run: Run, chain: Chain, heights: readonly number[]): Strip[] {
  const strips: Strip[] = []
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
      strips.push({ ax: a[0], ay: a[1], bx: b[0], by: b[1], radii })
    }
  }
  return merged(strips)
}

/** Lowest that a run's tip cuts, frame of the stock as it lies. */
function deepestCut({ run }: Step): number {
  let least = Number.POSITIVE_INFINITY
  for (const low of run?.engagement.lowest ?? []) if (low < least) least = low
  return least
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
