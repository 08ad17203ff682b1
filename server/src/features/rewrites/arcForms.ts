import { arcAbout, centreOfRadius } from '../../machine/arcs.ts'
import { offBy, type Point, radiiLimit } from './arcShape.ts'
import { without } from './lines.ts'
import { LineWriter } from './lineWriter.ts'
import { numberIn, styleOf, writeWord } from './numbers.ts'
import { attempt, type Edit, mustRunInOrder, type Rewritten, type Source } from './source.ts'
import { verified } from './verify.ts'
import { type LineRead, PLANE_AXES, scaleOf, walk, wordOf } from './walk.ts'

/** How far an arc may be off anywhere on its way, mm. */
const OFF = 0.0005
const CENTRES = 'IJK'

/** Gives arcs their centre by I, J, K instead of their radius. */
export function arcsByCentre(source: Source): Rewritten {
  return attempt(() => {
    mustRunInOrder(source)
    const style = styleOf(source)
    const edits: Edit[] = []
    for (const read of arcsOf(source)) {
      const radius = wordOf(read.words, 'R')
      if (!radius) continue
      const { plane, from, to, arc, centre, arcAbsolute, units, line } = read
      const [a, b] = PLANE_AXES[plane]
      const scale = scaleOf(units)
      const [start, end]: Point[] = [
        [from[a], from[b]],
        [to[a], to[b]],
      ]
      const base = arcAbsolute ? [0, 0] : start
      for (const tolerance of [1e-4, 1e-5, 1e-6]) {
        const texts = [a, b].map((axis, n) =>
          writeWord(style, CENTRES[axis], (centre[n] - base[n]) / scale, tolerance / scale),
        )
        const at: Point = [numberIn(texts[0]) * scale + base[0], numberIn(texts[1]) * scale + base[1]]
        if (offBy(arcAbout(plane, start, end, at, arc.sweep > 0), arc) > OFF && tolerance > 1e-6) continue
        const writer = new LineWriter(source.program, line, read.words, style.spaced)
        writer.replace(radius, texts[0])
        writer.add('R', texts[1])
        edits.push(...writer.edits())
        break
      }
    }
    return { edits: verified(source, edits) }
  })
}

/** Gives arcs their radius instead of their centre, where that says as much: no full circles, nor nearly half ones. */
export function arcsByRadius(source: Source): Rewritten {
  return attempt(() => {
    mustRunInOrder(source)
    const style = styleOf(source)
    const edits: Edit[] = []
    let kept = 0
    for (const read of arcsOf(source)) {
      const { plane, from, to, arc, units, words, program } = { ...read, program: source.program }
      if (wordOf(words, 'R')) continue
      const [a, b] = PLANE_AXES[plane]
      const scale = scaleOf(units)
      const start: Point = [from[a], from[b]]
      const end: Point = [to[a], to[b]]
      const centres = words.filter(({ letter }) => CENTRES.includes(letter))
      const size = (arc.radius * (Math.abs(arc.sweep) > Math.PI ? -1 : 1)) / scale
      const text = [1e-4, 1e-5, 1e-6]
        .map(tolerance => writeWord(style, 'R', size, tolerance / scale))
        .find(each => {
          if (start[0] === end[0] && start[1] === end[1]) return false
          const at = centreOfRadius(start, end, numberIn(each) * scale, arc.sweep > 0, radiiLimit(units))
          return at && offBy(arcAbout(plane, start, end, at, arc.sweep > 0), arc) <= OFF
        })
      if (text === undefined || centres.length === 0) {
        kept++
        continue
      }
      const writer = new LineWriter(program, read.line, words, style.spaced)
      writer.replace(centres[0], text)
      edits.push(...writer.edits(), ...centres.slice(1).map(word => without(source, word)))
    }
    const notes =
      kept > 0
        ? [`${kept} arcs keep their centre: full circles, and about half ones, are not told well by a radius.`]
        : []
    return { edits: verified(source, edits), notes }
  })
}

type ArcRead = LineRead & Required<Pick<LineRead, 'arc' | 'centre'>>

function* arcsOf(source: Source): Generator<ArcRead> {
  for (const read of walk(source)) {
    if (read.line > source.last) return
    const { arc, centre } = read
    if (read.line < source.first || read.kind !== 'arc' || !arc || !centre) continue
    // In program coordinates, as the words are.
    yield { ...read, centre, arc: { ...arc, centre } }
  }
}
