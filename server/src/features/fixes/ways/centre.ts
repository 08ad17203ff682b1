import type { Word } from '../../../machine/program.ts'
import { endOf, startOf } from '../../../rules/common/path.ts'
import { betweenEnds, type Point, radiiLimit } from '../../rewrites/arcShape.ts'
import { writeWord } from '../../rewrites/numbers.ts'
import { editOf, type Source, written } from '../../rewrites/source.ts'
import { type LineRead, PLANE_AXES, scaleOf, wordOf } from '../../rewrites/walk.ts'
import { type Proposal, placeOf, type Way } from '../scene.ts'
import { Pen } from '../writing.ts'

/** Slips of the hand that are offered at the most. */
const MOST_SLIPS = 2
/** Cosine of a corner that nobody sees: 1 degree. */
const SMOOTH = Math.cos(Math.PI / 180)

/**
 * The centre of an arc as far from both of its ends: one slip of the hand undone, or where the moves before and after run
 * into it, or as near to where it was as may be.
 */
export const centre: Way = scene => {
  const place = placeOf(scene)
  if (!place || (place.read.motion !== 20 && place.read.motion !== 30)) return []
  const { read, next } = place
  const [a, b] = PLANE_AXES[read.plane]
  const ends: [Point, Point] = [
    [read.from[a], read.from[b]],
    [read.to[a], read.to[b]],
  ]
  const known = [...slips(scene.source, read, ends), ...between(scene.source, read, next, ends)]
  // An arc whose ends differ by more than a hair is no arc to the machine: where its centre was says little then.
  return read.arc && read.centre
    ? [...known, at(scene.source, read, ends, betweenEnds(read.centre, ends, radiiLimit(read.units) / 100))]
    : known
}

/** The arc that straight moves before and after it run into without a corner. */
function between(
  source: Source,
  read: LineRead,
  next: LineRead | undefined,
  ends: readonly [Point, Point],
): Proposal[] {
  const { motions } = source.program
  const [first] = read.motions
  if (first < 2 || next?.kind !== 'straight' || motions.arc[first - 1] >= 0) return []
  const axes = PLANE_AXES[read.plane]
  const way = (from: readonly number[], to: readonly number[]): Point => {
    const [u, v] = axes.map(axis => to[axis] - from[axis])
    const length = Math.hypot(u, v)
    return [u / length, v / length]
  }
  const before = way(startOf(motions, first - 1), endOf(motions, first - 1))
  const after = way(next.from, next.to)
  const [[u, v], [x, y]] = ends
  // The centre lies to the left of the way of a counter-clockwise arc.
  const side = read.motion === 30 ? 1 : -1
  const [nu, nv] = [-side * before[1], side * before[0]]
  const across = 2 * ((x - u) * nu + (y - v) * nv)
  const radius = ((x - u) ** 2 + (y - v) ** 2) / across
  if (!(radius > 0 && Number.isFinite(radius))) return []
  const centre: Point = [u + nu * radius, v + nv * radius]
  const leaves: Point = [(-side * (y - centre[1])) / radius, (side * (x - centre[0])) / radius]
  const smooth = leaves[0] * after[0] + leaves[1] * after[1] > SMOOTH
  return smooth ? [at(source, read, ends, centre)] : []
}

/** A sign, a digit, a decimal point, or the one letter for the other: whatever makes the centre right by itself. */
function slips(source: Source, read: LineRead, ends: readonly [Point, Point]): Proposal[] {
  const letters = PLANE_AXES[read.plane].map(axis => 'IJK'[axis])
  const words = letters.map(letter => wordOf(read.words, letter))
  const scale = scaleOf(read.units)
  const found: { unlike: number; proposal: Proposal }[] = []
  const attempt = (texts: readonly (readonly [Word, string])[]) => {
    const centre = words.map((word, n) => {
      const text = texts.find(([each]) => each === word)?.[1]
      const value = text === undefined ? (word?.value ?? 0) : Number(text.slice(1))
      return value * scale + (read.arcAbsolute ? 0 : ends[0][n])
    })
    const [from, to] = ends.map(([u, v]) => Math.hypot(u - centre[0], v - centre[1]))
    const unlike = Math.abs(from - to)
    if (!(unlike <= radiiLimit(read.units))) return
    const edits = texts.map(([word, text]) => editOf(word.span, text))
    const was = texts.map(([word]) => written(source.program, word)).join(' ')
    const title = `Write ${texts.map(([, text]) => text).join(' ')} for ${was}: the centre is then as far from both ends`
    found.push({ unlike, proposal: { title, edits } })
  }
  for (const word of words)
    if (word) for (const text of misreadings(written(source.program, word))) attempt([[word, text]])
  const [one, other] = words
  if (one && other) {
    const [first, second] = [one, other].map(word => written(source.program, word))
    attempt([
      [one, first[0] + second.slice(1)],
      [other, second[0] + first.slice(1)],
    ])
  }
  return found
    .sort((p, q) => p.unlike - q.unlike)
    .slice(0, MOST_SLIPS)
    .map(({ proposal }) => proposal)
}

/** What a number may have been meant to be: the other sign, another place of its point, one digit another. */
function misreadings(word: string): string[] {
  const parts = /^([A-Za-z])([+-]?)(\d*(?:\.\d*)?)$/.exec(word)
  if (!parts) return []
  const [, letter, sign, digits] = parts
  const others = new Set([`${letter}${sign === '-' ? '' : '-'}${digits}`])
  const point = digits.includes('.') ? digits.indexOf('.') : digits.length
  const bare = digits.replace('.', '')
  for (const at of [point - 1, point + 1]) {
    if (at < 0 || at > bare.length) continue
    others.add(letter + sign + (bare.slice(0, at) || '0') + (at < bare.length ? `.${bare.slice(at)}` : ''))
  }
  for (let n = 0; n < digits.length; n++) {
    if (digits[n] === '.') continue
    for (let digit = 0; digit < 10; digit++)
      others.add(letter + sign + digits.slice(0, n) + digit + digits.slice(n + 1))
  }
  others.delete(word)
  return [...others]
}

function at(source: Source, read: LineRead, ends: readonly [Point, Point], to: Point): Proposal {
  const pen = new Pen(source)
  const writer = pen.writer(read)
  const texts = PLANE_AXES[read.plane].flatMap((axis, n) => {
    const letter = 'IJK'[axis]
    const text = writeWord(pen.style, letter, (to[n] - (read.arcAbsolute ? 0 : ends[0][n])) / scaleOf(read.units), 1e-4)
    const word = wordOf(read.words, letter)
    if (word) writer.replace(word, text)
    else if (Math.abs(to[n] - ends[0][n]) > 1e-4) writer.add(letter, text)
    else return []
    return [text]
  })
  return { title: `Put the centre as far from both ends: ${texts.join(' ')}`, edits: writer.edits() }
}
