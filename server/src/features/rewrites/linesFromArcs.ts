import { startOf } from '../../rules/common/path.ts'
import { linesAfter, without } from './lines.ts'
import { LineWriter } from './lineWriter.ts'
import { numberIn, styleOf, writeCode, writeWord } from './numbers.ts'
import { stillOnPath, tolerable } from './samePath.ts'
import { attempt, type Edit, mustRunInOrder, type Rewritten, type Source, written } from './source.ts'
import { type LineRead, motionWordOf, scaleOf, walk, wordOf } from './walk.ts'

/** Straight lines in the place of arcs, no farther from them than a tolerance, mm. */
export function linesFromArcs(source: Source, tolerance: number): Rewritten {
  return attempt(() => {
    tolerable(tolerance)
    mustRunInOrder(source)
    const style = styleOf(source)
    const edits: Edit[] = []
    let motion = -1
    for (const read of walk(source)) {
      const { line, words, kind, arc, units, absolute, from } = read
      const writer = new LineWriter(source.program, line, words, style.spaced)
      const inside = line >= source.first && line <= source.last
      const own = motionWordOf(words)
      if (kind !== 'arc' || !arc || !inside) {
        if (!own && kind !== 'none' && motion >= 0 && motion !== read.motion) writer.addCode(`G${read.motion / 10}`)
        if (own || kind !== 'none') motion = read.motion
        edits.push(...writer.edits())
        continue
      }
      const scale = scaleOf(units)
      const { motions, states } = source.program
      const { offset } = states[motions.state[read.motions[0]]]
      const turn = 2 * Math.acos(Math.max(0, 1 - (0.98 * tolerance) / arc.radius))
      const pieces = Math.max(2, Math.ceil(Math.abs(arc.sweep) / turn))
      const places = pointsOn(source, read, pieces).map(place => place.map((v, axis) => v - offset[axis]))
      const lines: string[] = []
      let before: readonly number[] = from
      places.forEach((place, n) => {
        const texts = [0, 1, 2].flatMap(axis => {
          if (Math.abs(place[axis] - from[axis]) < 1e-9 && Math.abs(place[axis] - before[axis]) < 1e-9) return []
          const value = (place[axis] - (absolute ? 0 : before[axis])) / scale
          return [{ axis, text: writeWord(style, 'XYZ'[axis], value, 1e-4 / scale) }]
        })
        if (n > 0) lines.push(texts.map(({ text }) => text).join(style.spaced ? ' ' : ''))
        else {
          for (const { axis, text } of texts) {
            const word = wordOf(words, 'XYZ'[axis])
            if (word) writer.replace(word, text)
            else writer.add('XYZ'[axis], text)
          }
        }
        const at = [...before]
        for (const { axis, text } of texts) at[axis] = numberIn(text) * scale + (absolute ? 0 : before[axis])
        before = at
      })
      if (own) writer.replace(own, writeCode(written(source.program, own), 1))
      else if (motion !== 10) writer.addCode('G1')
      motion = 10
      const gone = words.filter(({ letter }) => 'IJKR'.includes(letter)).map(word => without(source, word))
      edits.push(...writer.edits(), ...gone, linesAfter(source, line, lines))
    }
    stillOnPath(source, edits, tolerance)
    return { edits }
  })
}

/** The places that part an arc into so many pieces, the end last, frame of the motions. */
function pointsOn({ program }: Source, read: LineRead, pieces: number): (readonly number[])[] {
  const { motions } = program
  const i = read.motions[1] - 1
  const arc = read.arc!
  const from = startOf(motions, i)
  const to = [motions.x[i], motions.y[i], motions.z[i]]
  return Array.from({ length: pieces }, (_, n) => {
    if (n === pieces - 1) return to
    const share = (n + 1) / pieces
    const angle = arc.from + share * arc.sweep
    const first = arc.centre[0] + arc.radius * Math.cos(angle)
    const second = arc.centre[1] + arc.radius * Math.sin(angle)
    const along = (axis: number) => from[axis] + share * (to[axis] - from[axis])
    if (arc.plane === 'XY') return [first, second, along(2)]
    return arc.plane === 'ZX' ? [second, along(1), first] : [along(0), first, second]
  })
}
