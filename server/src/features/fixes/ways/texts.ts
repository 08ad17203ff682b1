import { editOf, insertion } from '../../rewrites/source.ts'
import { type Way, wordAt } from '../scene.ts'
import { Pen } from '../writing.ts'

/** Says what was taken for granted. */
export const units: Way = ({ source }) => {
  const pen = new Pen(source)
  for (let line = 0; line < source.program.lineCount; line++) {
    const words = source.program.wordsOf(line)
    const first = words.find(({ letter }) => letter !== 'N')
    if (!first) continue
    const title = 'Say that lengths are in millimetres (G21)'
    return [{ title, edits: [pen.before(line, ['G21'])] }]
  }
  return []
}

export const end: Way = ({ source }) => {
  const pen = new Pen(source)
  let last = source.program.lineCount - 1
  const text = (line: number) => source.program.lineText(line).trim()
  while (last > 0 && text(last) === '') last--
  const line = text(last) === '%' && last > 0 ? last - 1 : last
  return [{ title: 'End the program with M2', edits: [pen.after(line, ['M2'])] }]
}

/** With more bits than this a list of them is no help. */
const MOST_BITS = 6

/** Each of the bits that are declared, so that a person can choose. */
export const whichBit: Way = scene => {
  const bits = [...(scene.outcome?.sheet.bits.values() ?? [])]
  const { motions } = scene.source.program
  if (bits.length === 0 || bits.length > MOST_BITS || motions.count === 0) return []
  const pen = new Pen(scene.source)
  const word = wordAt(scene)
  return bits.map(bit => {
    const text = `T${bit.number}`
    if (word?.letter === 'T') return { title: `Write ${text} (${bit.name})`, edits: [editOf(word.span, text)] }
    const edits = [pen.before(motions.line[0], [text])]
    return { title: `Say that ${text} (${bit.name}) is in the spindle`, edits }
  })
}

export const bracket: Way = ({ finding: { range }, source }) => {
  const line = source.program.lineText(range.start.line)
  return [
    {
      title: 'Close the comment at the end of its line',
      edits: [insertion(range.start.line, line.trimEnd().length, ')')],
    },
  ]
}

export const allowance: Way = ({ finding: { range }, source }) => {
  const { start, end } = range
  const line = source.program.lineText(start.line)
  const alone = line.slice(0, start.character).trim() === '' && line.slice(end.character).trim() === ''
  const gone = alone
    ? { start: { line: start.line, character: 0 }, end: { line: start.line + 1, character: 0 } }
    : { start: { line: start.line, character: line.slice(0, start.character).trimEnd().length }, end }
  return [{ title: 'Take this comment away', edits: [{ range: gone, text: '' }] }]
}
