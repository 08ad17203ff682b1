import { CODES } from '../../../machine/words.ts'
import { without } from '../../rewrites/lines.ts'
import { writeCode } from '../../rewrites/numbers.ts'
import { editOf, wordsByLine, written } from '../../rewrites/source.ts'
import { type Way, wordAt } from '../scene.ts'

/** Slips of the hand in a number: a comma, a letter O, signs and points twice. */
const SLIPS: readonly [RegExp, string][] = [
  [/,/g, '.'],
  [/[oO]/g, '0'],
  [/[lI]/g, '1'],
  [/--+/g, '-'],
  [/\+\++/g, '+'],
  [/\.\.+/g, '.'],
]

export const number: Way = scene => {
  const { range } = scene.finding
  const { source } = scene
  const { start, end } = range
  const text = source.program.lineText(start.line).slice(start.character, end.character)
  let digits = text.slice(1)
  for (const [slip, meant] of SLIPS) digits = digits.replace(slip, meant)
  const meant = text[0] + digits
  if (meant === text || !/^[A-Za-z]\s*[+-]?(\d+(\.\d*)?|\.\d+)$/.test(meant)) return remark(scene)
  return [{ title: `Write ${meant}`, edits: [{ range, text: meant }] }]
}

/** What people write to people is put in brackets: from the first word of two letters or more on. */
export const remark: Way = ({ finding: { range }, source }) => {
  const { line } = range.start
  const text = source.program.lineText(line).trimEnd()
  const begins = /[A-Za-z]{2,}/.exec(text)?.index ?? text.length
  const from = Math.min(begins, range.start.character)
  const said = text.slice(from)
  if (/[();%/#[\]]/.test(said) || !/[A-Za-z]{3,}/.test(said)) return []
  const span = { line, start: from, end: text.length }
  return [{ title: `Make a remark of it: (${said})`, edits: [editOf(span, `(${said})`)] }]
}

/** One of two words of the same letter taken away. */
export const oneWord: Way = scene => {
  const { source } = scene
  const second = wordAt(scene)
  if (!second) return []
  const words = wordsByLine(source)[second.span.line].filter(({ letter }) => letter === second.letter)
  const [first] = words
  if (words.length !== 2 || first.span.start === second.span.start) return []
  const [one, other] = [first, second].map(word => written(source.program, word))
  if (one === other) return [{ title: `Write ${one} once`, edits: [without(source, second)] }]
  return [
    { title: `Keep ${one} and take ${other} away`, edits: [without(source, second)] },
    { title: `Keep ${other} and take ${one} away`, edits: [without(source, first)] },
  ]
}

/** In all the places where the code stands: what the table of codes has for a machine that does not know it. */
export const instead: Way = scene => {
  const { source } = scene
  const word = wordAt(scene)
  const meaning = word && CODES.get(`${word.letter}${word.value}`)
  if (!word || !meaning?.instead) return []
  const same = wordsByLine(source)
    .flat()
    .filter(({ letter, value }) => letter === word.letter && value === word.value)
  const places = same.length === 1 ? '' : ` in ${same.length} places`
  if (meaning.instead.startsWith('nothing')) {
    return [{ title: `Leave ${meaning.code} out${places}`, edits: same.map(each => without(source, each)) }]
  }
  const [letter, number] = /^([GM])(\d+(?:\.\d)?)$/.exec(meaning.instead)?.slice(1) ?? []
  if (letter !== word.letter) return []
  const edits = same.map(each => editOf(each.span, writeCode(written(source.program, each), Number(number))))
  return [{ title: `Write ${meaning.instead} for ${meaning.code}${places}`, edits }]
}
