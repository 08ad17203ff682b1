import type { CopyOutcome, Figure, JobOutcome, Run } from '../../job/outcome.ts'
import type { SheetPath } from '../../job/sheetDocument.ts'
import { pointAsItLies } from '../../stock/lie.ts'
import type { Place, Report } from '../rule.ts'
import { MAP_ROUNDING } from '../tolerances.ts'
import { bitOf, feedCuts } from './inWood.ts'
import { isUpright, samples } from './path.ts'
import { levelWord } from './words.ts'

/** How a figure stands to its least accepted value: broken as it is, or only if everything goes wrong at once. */
export function underLimit(figure: Figure, limit: number): 'nominal' | 'worst case' | undefined {
  if (figure.nominal < limit - MAP_ROUNDING) return 'nominal'
  return figure.least < limit - MAP_ROUNDING ? 'worst case' : undefined
}

/**
 * The plug is the mirror image of what its pocket takes: then it does not sit where the figures would have it, and every
 * depth that goes through it says the same mistake again in other words (`inlay/not-mirrored`).
 */
export function notMirrored(copy: CopyOutcome): boolean {
  return copy.figures.fit?.plug.notMirrored ?? false
}

/** The runs of a copy that make a thing, in the order of the job. */
export function runsThatMake(copy: CopyOutcome, makes: Run['setup']['makes']): Run[] {
  return copy.setups.flatMap(({ run }) => (run && run.setup.makes === makes ? [run] : []))
}

/** A place of the blank frame in the frame of a run's motions, mm. */
export function inProgram(run: Run, at: readonly [number, number]): [number, number] {
  const size = { width: run.blank.width, depth: run.blank.depth, thickness: run.thickness }
  const [x, y] = pointAsItLies([at[0], at[1], 0], run.setup.lie, size)
  return [x - run.shift[0], y - run.shift[1]]
}

/**
 * The motion that cut deepest, over a place of the blank frame if one is given and the bit came there, else anywhere.
 * Undefined where the run cut nothing. Of those equally deep the first.
 */
export function deepestCut(run: Run, at?: readonly [number, number]): number | undefined {
  const { motions } = run.program
  const over = at && inProgram(run, at)
  let deepest: number | undefined
  let anywhere: number | undefined
  for (let i = 0; i < motions.count; i++) {
    if (!feedCuts(run, i)) continue
    const { lowest } = run.engagement
    if (anywhere === undefined || lowest[i] < lowest[anywhere] - MAP_ROUNDING) anywhere = i
    if (!over || (deepest !== undefined && !(lowest[i] < lowest[deepest] - MAP_ROUNDING))) continue
    if (distanceTo(run, i, over) <= (bitOf(run, i)?.diameter ?? 0) / 2 + run.before.grid.cell) deepest = i
  }
  return deepest ?? anywhere
}

/** The sideways cutting motion that passes nearest to a place of the blank frame: a wall is where the bit went along it. */
export function nearestCut(run: Run, at: readonly [number, number]): number | undefined {
  const place = inProgram(run, at)
  let nearest: number | undefined
  let least = Number.POSITIVE_INFINITY
  for (let i = 0; i < run.program.motions.count; i++) {
    if (!feedCuts(run, i) || isUpright(run.program.motions, i)) continue
    const distance = distanceTo(run, i, place)
    if (distance < least) [nearest, least] = [i, distance]
  }
  return nearest
}

function distanceTo(run: Run, motion: number, [x, y]: readonly [number, number]): number {
  const { motions } = run.program
  let [px, py] = motion === 0 ? motions.start : [motions.x[motion - 1], motions.y[motion - 1]]
  let least = Math.hypot(px - x, py - y)
  // Chords of arcs are taken for the arc: a tenth of a millimetre decides nothing here.
  const step = motions.arc[motion] < 0 ? Number.POSITIVE_INFINITY : 1
  for (const [qx, qy] of samples(motions, motion, step)) {
    const [dx, dy] = [qx - px, qy - py]
    const squared = dx * dx + dy * dy
    const t = squared > 0 ? Math.min(1, Math.max(0, ((x - px) * dx + (y - py) * dy) / squared)) : 0
    least = Math.min(least, Math.hypot(px + t * dx - x, py + t * dy - y))
    ;[px, py] = [qx, qy]
  }
  return least
}

/**
 * Where a depth of the job was decided: the Z word of the deepest level that a run of that kind cut at the place; the
 * field of the sheet where no run cut there.
 */
export function depthPlace(
  copy: CopyOutcome,
  makes: Run['setup']['makes'],
  at: readonly [number, number] | undefined,
  otherwise: SheetPath,
): { at: Place; setup?: string } {
  let best: { run: Run; motion: number } | undefined
  for (const run of runsThatMake(copy, makes)) {
    const motion = deepestCut(run, at)
    if (motion === undefined) continue
    if (!best || run.engagement.lowest[motion] <= best.run.engagement.lowest[best.motion]) best = { run, motion }
  }
  if (!best) return { at: { field: otherwise } }
  const { run, motion } = best
  return { at: { program: run.setup.program, span: levelWord(run.program, motion) }, setup: run.setup.name }
}

/** The pencil sum of a figure as a sentence of its own, with a space before it. */
export function sumSentence(figure: Figure): string {
  return figure.sum ? ` ${figure.sum}.` : ''
}

/** A limit of the sheet as a related place. */
export function limitPlace(job: JobOutcome, name: keyof JobOutcome['sheet']['limits']): NonNullable<Report['related']> {
  return [{ place: { field: ['limits', name] }, message: `the limit: limits.${name} = ${job.sheet.limits[name]} mm` }]
}
