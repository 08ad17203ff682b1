import { arcAbout } from '../../machine/arcs.ts'
import type { Arc } from '../../machine/motions.ts'
import { differ, type Point, radiiLimit } from './arcShape.ts'
import { holdsOnly, withoutLines } from './lines.ts'
import { LineWriter } from './lineWriter.ts'
import { styleOf, writeCode, writeWord } from './numbers.ts'
import { stillOnPath, tolerable } from './samePath.ts'
import { attempt, type Edit, mustRunInOrder, type Rewritten, type Source, written } from './source.ts'
import { type LineRead, motionWordOf, scaleOf, walk, wordOf } from './walk.ts'

/** Fewer lines than this are a corner, not a curve. */
const LEAST_LINES = 4
/** Larger circles are straight to anybody, mm. */
const LARGEST = 5000
/** Farther round an arc would nearly close, and rounding decide which way it goes. */
const MOST_TURN = (340 * Math.PI) / 180

/**
 * Puts arcs in the place of runs of short level lines that lie on one within a tolerance, mm: corners and the middles of
 * the lines alike.
 */
export function arcsFromLines(source: Source, tolerance: number): Rewritten {
  return attempt(() => {
    tolerable(tolerance)
    mustRunInOrder(source)
    const style = styleOf(source)
    const edits: Edit[] = []
    const reads = [...walk(source)].filter(({ kind, words }) => kind !== 'none' || words.length > 0)
    let motion = -1
    for (let n = 0; n < reads.length; n++) {
      const read = reads[n]
      const writer = new LineWriter(source.program, read.line, read.words, style.spaced)
      const found = longest(source, reads, n, tolerance)
      if (found) {
        const { last, arc } = found
        const scale = scaleOf(read.units)
        const code = arc.sweep > 0 ? 3 : 2
        const own = motionWordOf(read.words)
        if (own) writer.replace(own, writeCode(written(source.program, own), code))
        else if (motion !== code * 10) writer.addCode(`G${code}`)
        const end = reads[last].to
        for (const axis of [0, 1]) {
          const value = (end[axis] - (read.absolute ? 0 : read.from[axis])) / scale
          const word = wordOf(read.words, 'XY'[axis])
          const text = writeWord(style, 'XY'[axis], value, 1e-6, word && written(source.program, word))
          if (word) writer.replace(word, text)
          else if (end[axis] !== read.from[axis]) writer.add('XY'[axis], text)
          const base = read.arcAbsolute ? 0 : read.from[axis]
          writer.add('IJ'[axis], writeWord(style, 'IJ'[axis], (arc.centre[axis] - base) / scale, 1e-5))
        }
        motion = code * 10
        edits.push(...writer.edits(), withoutLines(read.line + 1, reads[last].line))
        n = last
        continue
      }
      const own = motionWordOf(read.words)
      if (!own && read.kind !== 'none' && motion >= 0 && motion !== read.motion) writer.addCode(`G${read.motion / 10}`)
      if (own || read.kind !== 'none') motion = read.motion
      edits.push(...writer.edits())
    }
    stillOnPath(source, edits, tolerance)
    return { edits }
  })
}

interface Found {
  /** Index of the last line read that the arc stands for. */
  readonly last: number
  readonly arc: Arc
}

/** The arc over the longest run of lines from here, if there is one. */
function longest(source: Source, reads: readonly LineRead[], n: number, tolerance: number): Found | undefined {
  if (!isShortLine(source, reads, n, undefined)) return undefined
  const points: Point[] = [[reads[n].from[0], reads[n].from[1]]]
  let best: Found | undefined
  for (let last = n; last < reads.length; last++) {
    if (last > n && !isShortLine(source, reads, last, reads[n])) break
    points.push([reads[last].to[0], reads[last].to[1]])
    if (points.length <= 3) continue
    const arc = arcThrough(points, tolerance, reads[n].units)
    if (!arc) break
    if (points.length > LEAST_LINES) best = { last, arc }
  }
  return best
}

/** A level straight cut on a line of its own, in XY, with nothing beside it that would be lost. */
function isShortLine(source: Source, reads: readonly LineRead[], n: number, first: LineRead | undefined): boolean {
  const { line, kind, motion, from, to, motions, plane, units, absolute, words } = reads[n]
  if (kind !== 'straight' || motion !== 10 || plane !== 'XY' || line < source.first || line > source.last) return false
  if (motions[1] - motions[0] !== 1 || from[2] !== to[2] || ![...from, ...to].every(Number.isFinite)) return false
  if (from[0] === to[0] && from[1] === to[1]) return false
  if (!first) return words.every(({ letter }) => 'NGXYF'.includes(letter))
  const { state } = source.program.motions
  const follows = line === reads[n - 1].line + 1 && holdsOnly(source, line, 'GXY')
  const same = state[motions[0]] === state[first.motions[0]] && units === first.units && absolute === first.absolute
  return follows && same && words.every(({ letter, value }) => letter !== 'G' || value === 1)
}

/** An arc from the first to the last point that all points and the middles between them are near to. */
function arcThrough(points: readonly Point[], tolerance: number, units: 'mm' | 'inch'): Arc | undefined {
  const [a, b] = [points[0], points[points.length - 1]]
  const middle = points[points.length >> 1]
  const centre = centreOf(a, middle, b)
  if (!centre) return undefined
  const radius = Math.hypot(a[0] - centre[0], a[1] - centre[1])
  if (!(radius < LARGEST) || differ(a, b, centre) > radiiLimit(units) / 2) return undefined
  const cross = (middle[0] - a[0]) * (b[1] - middle[1]) - (middle[1] - a[1]) * (b[0] - middle[0])
  const arc = arcAbout('XY', a, b, centre, cross > 0)
  if (Math.abs(arc.sweep) > MOST_TURN) return undefined
  let turned = 0
  for (let n = 1; n < points.length; n++) {
    const [p, q] = [points[n - 1], points[n]]
    const half: Point = [(p[0] + q[0]) / 2, (p[1] + q[1]) / 2]
    for (const at of [q, half]) {
      if (Math.abs(Math.hypot(at[0] - centre[0], at[1] - centre[1]) - radius) > tolerance * 0.98) return undefined
    }
    const piece = arcAbout('XY', p, q, centre, cross > 0)
    if (Math.abs(piece.sweep) > Math.PI / 2) return undefined
    turned += piece.sweep
  }
  return Math.abs(turned - arc.sweep) < 1e-6 ? arc : undefined
}

/** Centre of the circle through three points; undefined where they lie in a line. */
function centreOf(a: Point, b: Point, c: Point): Point | undefined {
  const [bx, by, cx, cy] = [b[0] - a[0], b[1] - a[1], c[0] - a[0], c[1] - a[1]]
  const twice = 2 * (bx * cy - by * cx)
  if (Math.abs(twice) < 1e-9) return undefined
  const [bb, cc] = [bx * bx + by * by, cx * cx + cy * cy]
  return [a[0] + (cy * bb - by * cc) / twice, a[1] + (bx * cc - cx * bb) / twice]
}
