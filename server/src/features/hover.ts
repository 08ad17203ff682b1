import type { Run } from '../job/outcome.ts'
import { dialectOf, Reading } from '../machine/dialect.ts'
import type { Program } from '../machine/program.ts'
import { codeName } from '../machine/words.ts'
import { bitOf } from '../rules/common/inWood.ts'
import { number } from '../rules/common/wording.ts'
import { type LinePart, partsOf } from '../syntax/lineParts.ts'
import type { ProgramText } from '../syntax/programText.ts'
import type { Position, TextSpan } from '../syntax/source.ts'
import { partUnder } from './language/uses.ts'
import { bitText } from './reading/bitText.ts'
import { chipsOf, outOfRange, wordKey } from './reading/chips.ts'
import { codesInForce } from './reading/codesInForce.ts'
import { commentText } from './reading/commentText.ts'
import * as glossary from './reading/glossary.ts'
import type { KnownProgram } from './reading/known.ts'
import { deepestPass, inForceText, lowestMotion, moveText, passText } from './reading/moveText.ts'
import { nameText } from './reading/nameText.ts'
import { type Pass, passesOf } from './reading/passes.ts'
import { sectionAt } from './reading/section.ts'
import { drawSection, reachOfDrawing } from './reading/sectionDrawing.ts'
import { distinctRuns, leftUnder, nameOfRun } from './reading/wood.ts'
import { woodText } from './reading/woodText.ts'
import { escaped } from './sheet/markdown.ts'

export interface Hover {
  readonly span: TextSpan
  readonly markdown: string
}

/** A program with what the last check knows of it. */
export interface HoverQuestion {
  readonly text: ProgramText
  readonly program: Program
  readonly known: KnownProgram
  /** Whether to draw the wood where depth is the matter. */
  readonly draws: boolean
}

/** Words at which the depth is the matter: the wood is drawn. */
const DEPTH = new Set(['Z', 'G', 'R', 'Q'])

/**
 * What a word means, and what it does here: where its line takes the bit in the program and in the blank, how deep that
 * is, what is left under it, what the cut takes, and what is in force. As far as it is known: without a job, what the
 * text alone tells. undefined where no word stands.
 */
export function hoverAt(question: HoverQuestion, at: Position): Hover | undefined {
  const { text, program, known } = question
  if (!(at.line >= 0 && at.line < text.lineCount)) return undefined
  const part = partUnder(partsOf(text, at.line), at.character)
  if (!part) return undefined
  const own = part.kind === 'comment' ? commentText(program, part.span, known) : meaningText(question, part, at.line)
  const parts = [own, ...(part.kind === 'comment' ? [] : hereText(question, part, at.line))]
  const markdown = parts.filter(each => each !== '').join('\n\n')
  return markdown === '' ? undefined : { span: spanOf(program, part, at), markdown }
}

/** The whole word of a letter or a number. */
function spanOf(program: Program, part: LinePart, { line, character }: Position): TextSpan {
  if (part.kind !== 'letter' && part.kind !== 'number') return part.span
  const word = program.wordsOf(line).find(({ span }) => span.start <= character && character <= span.end)
  return word?.span ?? part.span
}

function meaningText({ text, program, known }: HoverQuestion, part: LinePart, line: number): string {
  const say = (meaning: glossary.Meaning | undefined) => (meaning ? glossary.meaningText(meaning) : '')
  const written = text.line(line).slice(part.span.start, part.span.end)
  switch (part.kind) {
    case 'code': {
      if (part.value === undefined || Number.isNaN(part.value)) return say(glossary.meaningOf(part.letter ?? ''))
      const code = codeName(part.letter ?? '', Math.round(part.value * 10))
      return [say(glossary.meaningOf(code)), refusalText(code, known)].filter(each => each !== '').join('\n\n')
    }
    case 'tool':
      return [say(glossary.meaningOf('T')), toolText(part.value, known)].filter(each => each !== '').join('\n\n')
    case 'lineNumber':
      return say(glossary.meaningOf('N'))
    case 'letter':
    case 'number': {
      const letter = part.letter ?? ''
      const meaning = say(
        letter === ''
          ? undefined
          : glossary.meaningOfLetter(
              letter,
              codesInForce(text, () => program, line),
            ),
      )
      return [meaning, rateText(letter, part, program, line, known)].filter(each => each !== '').join('\n\n')
    }
    case 'parameter':
    case 'label':
    case 'flow':
      return nameText(text, part, line)
    case 'function':
      return say(glossary.meaningOfFunction(written))
    case 'operator':
      return say(glossary.meaningOfOperator(written))
    case 'open':
    case 'close':
      return say(glossary.MARKS['['])
    case 'mark':
      return say(glossary.MARKS[written.trim()])
    case 'machineSetting':
      return say(glossary.MARKS.$)
    case 'checksum':
      return say(glossary.MARKS['*'])
    case 'comment':
      return ''
  }
}

function refusalText(code: string, { sheet }: KnownProgram): string {
  if (!sheet) return ''
  const dialect = dialectOf(sheet.machine.dialect)
  const table = code[0] === 'G' ? dialect.g : dialect.m
  const reading = table[Math.round(Number(code.slice(1)) * 10)]
  if (reading === Reading.added) return 'The sheet adds it to the dialect; what it does is not modelled.'
  if (reading !== Reading.refused) return ''
  const instead = glossary.meaningOf(code)?.instead
  return `**Not in ${dialect.name}.**${instead ? ` Write instead: ${instead}.` : ''}`
}

function toolText(value: number | undefined, { sheet }: KnownProgram): string {
  const bit = value === undefined ? undefined : sheet?.bits.get(value)
  if (bit) return bitText(bit)
  return sheet && sheet.bits.size > 0 && value !== undefined ? `No bit ${value} is declared.` : ''
}

/** What an F or S makes of the chip load. */
function rateText(
  letter: string,
  part: LinePart,
  program: Program,
  line: number,
  { runs, sheet }: KnownProgram,
): string {
  if ((letter !== 'F' && letter !== 'S') || !sheet) return ''
  const word = program.wordsOf(line).find(({ span }) => span.start <= part.span.start && part.span.end <= span.end)
  if (!word) return ''
  const told = distinctRuns(runs).flatMap(run => {
    const { feeds, speeds } = chipsOf(run, sheet.machine)
    const chips = (letter === 'F' ? feeds : speeds).get(wordKey(word.span))
    if (!chips) return []
    const { bit, least, most, moves } = chips
    const load = most - least < 5e-4 ? number(most, 3) : `${number(least, 3)} to ${number(most, 3)}`
    const out = outOfRange(chips)
    const verdict = out ? `, **${out}**` : ''
    const range = `${escaped(bit.name)} takes ${number(bit.chipLoad[0], 3)} to ${number(bit.chipLoad[1], 3)}`
    return [`In ${moves} level cut${moves === 1 ? '' : 's'}: ${load} mm a tooth${verdict}; ${range}`]
  })
  return [...new Set(told)].join('\n\n')
}

function hereText(question: HoverQuestion, part: LinePart, line: number): string[] {
  const { program, known } = question
  const passes = passesOf(program, line)
  if (passes.length === 0) return []
  const shown = deepestPass(program, passes)
  const pass = passes[shown]
  const runs = distinctRuns(known.runs)
  const { sheet } = known
  const wood = sheet ? woodText(runs, pass, sheet.machine) : { depth: [], rest: [] }
  const draws = question.draws && DEPTH.has(part.letter ?? '')
  const others = [moveText(program, pass), ...wood.rest, inForceText(program, lowestMotion(program, pass))]
  // Editors show the top of a long hover: what matters most stands there, and the drawing with it.
  return [passText(program, passes, shown), wood.depth.join(NEXT), draws ? drawing(runs, pass) : '', others.join(NEXT)]
}

/** A new line, but no new paragraph. */
const NEXT = '  \n'

/** The wood of the run in which least is left. */
function drawing(runs: readonly Run[], pass: Pass): string {
  let worst: { run: Run; left: number | undefined } | undefined
  for (const run of runs) {
    const left = leftUnder(run, lowestMotion(run.program, pass))
    if (!worst || (left ?? Number.POSITIVE_INFINITY) < (worst.left ?? Number.POSITIVE_INFINITY)) worst = { run, left }
  }
  if (!worst) return ''
  const { run, left } = worst
  const motion = lowestMotion(run.program, pass)
  const bit = bitOf(run, motion)
  const tip = run.program.motions.z[motion] + run.shift[2]
  // A travel high over the wood has nothing to show.
  if (!bit || !(tip < run.faceLevel + bit.diameter)) return ''
  const section = sectionAt(run, pass.first, motion, reachOfDrawing(bit, tip, run.faceLevel, run.bedLevel))
  if (!section) return ''
  const svg = drawSection(section, left)
  const name = nameOfRun(run, runs)
  const title = `Section through blank and bit${name === '' ? '' : `, ${name}`}`.replace(/[[\]\\]/g, '\\$&')
  return `![${title}](data:image/svg+xml;base64,${toBase64(svg)})`
}

function toBase64(text: string): string {
  return btoa(Array.from(new TextEncoder().encode(text), byte => String.fromCharCode(byte)).join(''))
}
