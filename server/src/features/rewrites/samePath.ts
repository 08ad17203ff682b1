import { arcOf, samples } from '../../rules/common/path.ts'
import { type Edit, Refusal, readAgain, type Source } from './source.ts'

/** A hair for the rounding of the words. */
const HAIR = 0.001

/**
 * Holds the path of the edited text to that of the old one, both ways, at places along it: no farther apart than the
 * tolerance, and rapids as they were.
 * @throws Refusal where it is not
 */
export function stillOnPath(source: Source, edits: readonly Edit[], tolerance: number): void {
  const after = readAgain(source, edits)
  const [one, other] = [source.program.motions, after.motions]
  const last = (motions: typeof one) => [motions.x, motions.y, motions.z].map(axis => axis[motions.count - 1])
  const [end, found] = [last(one), last(other)]
  const near = end.every((v, n) => Object.is(v, found[n]) || Math.abs(v - found[n]) <= HAIR)
  const worse = after.problems.length > source.program.problems.length
  if (!near || worse) throw new Refusal('After it the program would not go where it went. Nothing was done.')
  const [there, back] = [farthest(one, other), farthest(other, one)]
  if (Math.max(there, back) > tolerance + HAIR) {
    throw new Refusal(`After it the path would be ${Math.max(there, back).toFixed(4)} mm off. Nothing was done.`)
  }
}

type Path = Source['program']['motions']

/** Farthest that places on one path are from another, mm: each is looked for where the other is as far on its way. */
function farthest(one: Path, other: Path): number {
  const trail: (readonly number[])[] = []
  const lengths: number[] = []
  let length = 0
  for (let i = 0; i < other.count; i++) {
    for (const place of samples(other, i, Math.min(0.25, fineness(other, i)))) {
      length += apart(place, trail.at(-1) ?? place)
      trail.push(place)
      lengths.push(length)
    }
  }
  let most = 0
  let from = 0
  let gone = 0
  let before: readonly number[] | undefined
  for (let i = 0; i < one.count; i++) {
    for (const place of samples(one, i, 0.5)) {
      gone += apart(place, before ?? place)
      before = place
      const slack = ASTRAY + gone * STRETCH
      while (from + 1 < trail.length && lengths[from + 1] < gone - slack) from++
      let best = Number.POSITIVE_INFINITY
      for (let n = from; n < trail.length && (lengths[n] <= gone + slack || n === from); n++) {
        best = Math.min(best, toPiece(place, trail[Math.max(0, n - 1)], trail[n]))
      }
      if (best > most) most = best
    }
  }
  return most
}

/** An arc is longer than its chords: by so much of its length at most, and so much besides, mm. */
const STRETCH = 0.02
const ASTRAY = 2

const apart = (a: readonly number[], b: readonly number[]): number => {
  const length = Math.hypot(a[0] - b[0], a[1] - b[1], a[2] - b[2])
  return Number.isFinite(length) ? length : 0
}

/** Length of the chords of an arc that are no farther from it than half a thousandth, mm. */
function fineness(motions: Path, i: number): number {
  const arc = arcOf(motions, i)
  return arc ? Math.sqrt(8 * arc.radius * 0.0005) : Number.POSITIVE_INFINITY
}

/** Distance of a place from the piece between two places, mm. */
function toPiece(p: readonly number[], a: readonly number[], b: readonly number[]): number {
  let along = 0
  let length = 0
  for (let n = 0; n < 3; n++) {
    along += (p[n] - a[n]) * (b[n] - a[n])
    length += (b[n] - a[n]) ** 2
  }
  const t = length > 0 && Number.isFinite(along) ? Math.min(1, Math.max(0, along / length)) : 1
  let sum = 0
  for (let n = 0; n < 3; n++) {
    const from = Number.isFinite(a[n]) ? a[n] : b[n]
    sum += (p[n] - from - t * (b[n] - from)) ** 2
  }
  return Math.sqrt(sum)
}

/** @throws Refusal where it is no tolerance */
export function tolerable(tolerance: number): void {
  if (!(tolerance > 0 && tolerance <= 1)) throw new Refusal('A tolerance is a length above 0 and no more than 1 mm.')
}
