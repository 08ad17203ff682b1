import { mm } from '../../../rules/common/wording.ts'
import { blocksOf, stepped } from '../../rewrites/levels.ts'
import { writeWord } from '../../rewrites/numbers.ts'
import { middleOf, mirror as mirrored } from '../../rewrites/place.ts'
import { editOf, written } from '../../rewrites/source.ts'
import { scaleOf } from '../../rewrites/walk.ts'
import { placeOf, type Way, wordAt } from '../scene.ts'
import { Pen } from '../writing.ts'

/** The pass in levels of no more than the bit takes. */
export const levels: Way = scene => {
  const place = placeOf(scene)
  const { found, limit } = scene.finding
  if (!place?.read.absolute || found === undefined || limit === undefined) return []
  const { source } = scene
  const { line } = place.read
  const part = source.program.operations.find(({ firstLine, lastLine }) => line >= firstLine && line <= lastLine)
  const inside = part ? { ...source, first: part.firstLine, last: part.lastLine } : source
  const block = blocksOf(inside).find(({ firstLine, lastLine }) => line >= firstLine && line <= lastLine)
  if (!block) return []
  const { offset } = source.program.states[source.program.motions.state[block.first]]
  const count = Math.ceil(found / limit - 1e-6)
  // Even steps: none of them is a shaving.
  const step = Math.ceil((found / count) * 100 - 1e-6) / 100
  const result = stepped({ ...source, first: block.firstLine, last: block.lastLine }, step, block.z - offset[2] + found)
  return 'edits' in result ? [{ title: `Cut it in ${count} levels of at most ${mm(step)}`, edits: result.edits }] : []
}

/** The program turned over: about its own middle, so that the motif stays where it is. */
export const mirror: Way = scene => {
  const middle = middleOf(scene.source)
  if (!middle) return []
  return (['x', 'y'] as const).flatMap((axis, n) => {
    const result = mirrored(scene.source, axis, middle[n])
    const title = `Mirror ${scene.finding.setup ?? 'the program'} ${axis === 'x' ? 'left to right about X' : 'near to far about Y'}${Math.round(middle[n] * 1000) / 1000}`
    return 'edits' in result ? [{ title, edits: result.edits }] : []
  })
}

/** A radius may be this much too small and still have been meant, of its size. */
const MEANT = 0.02

export const radius: Way = scene => {
  const { found, limit } = scene.finding
  const word = wordAt(scene)
  const place = placeOf(scene)
  if (word?.letter !== 'R' || found === undefined || limit === undefined || !place || limit > found * (1 + MEANT))
    return []
  const pen = new Pen(scene.source)
  const size = (Math.ceil(limit * 1000) / 1000) * Math.sign(word.value)
  const text = writeWord(pen.style, 'R', size / scaleOf(place.read.units), 1e-6, written(scene.source.program, word))
  return [{ title: `Make it a half circle: ${text}`, edits: [editOf(word.span, text)] }]
}
