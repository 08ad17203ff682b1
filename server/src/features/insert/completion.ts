import { type DialectChoice, dialectOf, Reading } from '../../machine/dialect.ts'
import type { Program } from '../../machine/program.ts'
import { CODES, LETTERS } from '../../machine/words.ts'
import { mm, number } from '../../rules/common/wording.ts'
import type { Position } from '../../syntax/source.ts'
import { allUses } from '../language/uses.ts'
import { bitText } from '../reading/bitText.ts'
import * as glossary from '../reading/glossary.ts'
import { lastMotionBefore } from '../reading/passes.ts'
import { operationsAt } from './insertOperation.ts'
import { ratesAt } from './ratesAt.ts'
import type { PlaceQuestion } from './siteAt.ts'

/** Something that may be written at a place of a program. */
export interface ProgramCompletion {
  readonly kind: 'code' | 'word' | 'bit' | 'rate' | 'parameter' | 'subprogram' | 'function' | 'flow' | 'operation'
  readonly label: string
  /** Half a line: what it is. */
  readonly detail?: string
  /** Markdown. */
  readonly about?: string
  /** Columns of the line that are replaced. */
  readonly start: number
  readonly end: number
  readonly text: string
}

/** A place in a program and what the last check knows of its job. */
export interface CompletionQuestion extends Omit<PlaceQuestion, 'line'> {
  readonly dialect: DialectChoice
}

/** What may stand at a position: nothing within comments. */
export function programCompletions(question: CompletionQuestion, at: Position): ProgramCompletion[] {
  const { text } = question
  const line = text.line(at.line)
  const before = line.slice(0, at.character)
  if (inComment(before) || /^\s*\$/.test(before)) return []
  const place: Place = { question, line: at.line, before, character: at.character }
  const parameter = /#(<[^>]*|\d*)$/.exec(before)
  if (parameter) return parameters(place, at.character - parameter[0].length)
  if (O_WORD.test(before)) return subprograms(place)
  const flow = /(?<![a-zA-Z])[oO]\s*(?:<[^>]*>|\d+)\s+([a-zA-Z]*)$/.exec(before)
  if (flow) return flowWords(place, at.character - flow[1].length)
  if (openBrackets(before) > 0) return functions(place)
  // A number that has been begun is finished by hand.
  if (/[a-zA-Z]\s*[+-][\d.]*$/.test(before)) return []
  const word = /(?<![a-zA-Z])([a-zA-Z])\s*([\d.]*)$/.exec(before)
  if (word && /[GMgm]/.test(word[1])) return codes(place, at.character - word[0].length, word[1].toUpperCase())
  if (word && /[Tt]/.test(word[1])) return bits(place, at.character - word[0].length)
  if (word && /[FSfs]/.test(word[1])) return rates(place, at.character - word[0].length, word[1].toUpperCase())
  if (word && /[Pp]/.test(word[1]) && /[mM]\s*0*98(?!\d)/.test(line))
    return calledByNumber(place, at.character - word[0].length)
  if (word && word[2] !== '') return []
  // A name of an operation is typed in letters; alone on its line it may be one.
  const typed = /(?<![a-zA-Z])[a-zA-Z]*$/.exec(before)?.[0] ?? ''
  const start = at.character - typed.length
  const alone = before.slice(0, start).trim() === '' && line.slice(at.character).trim() === ''
  return [
    ...(typed.length <= 1 ? [...codes(place, start), ...letters(place, start)] : []),
    ...(alone ? operations(place) : []),
  ]
}

/** An O that begins a word, and what it goes by as far as it is written; letters before it make it part of a name. */
const O_WORD = /(?<![a-zA-Z])[oO]\s*(<[^>]*|\d*)$/

interface Place {
  readonly question: CompletionQuestion
  readonly line: number
  /** The line up to the caret. */
  readonly before: string
  readonly character: number
}

function inComment(before: string): boolean {
  return before.includes(';') || before.lastIndexOf('(') > before.lastIndexOf(')')
}

function openBrackets(before: string): number {
  return (before.match(/\[/g)?.length ?? 0) - (before.match(/\]/g)?.length ?? 0)
}

/** Codes that the dialect knows, and those that a sheet adds; what it refuses is not offered. */
function codes({ question, character }: Place, start: number, letter?: string): ProgramCompletion[] {
  const dialect = dialectOf(question.dialect)
  const readingOf = (code: string) => {
    return (code[0] === 'G' ? dialect.g : dialect.m)[Math.round(Number(code.slice(1)) * 10)]
  }
  const names = [...CODES.keys(), ...question.dialect.add.map(code => code.trim().toUpperCase())]
  return [...new Set(names)].flatMap((code): ProgramCompletion[] => {
    const reading = readingOf(code)
    if (reading !== Reading.known && reading !== Reading.added) return []
    if (letter !== undefined && code[0] !== letter) return []
    const meaning = glossary.meaningOf(code)
    const section = meaning?.section ? `NISTIR 6556, ${meaning.section}` : 'of the kept extensions: not in NISTIR 6556'
    return [
      {
        kind: 'code',
        label: code,
        detail: meaning?.title ?? 'added by the sheet; what it does is not modelled',
        about: meaning && section,
        start,
        end: character,
        text: code,
      },
    ]
  })
}

/** Letters offered by themselves: what codes and other lists begin with is offered whole. */
const AXIS_LETTERS = ['X', 'Y', 'Z', 'I', 'J', 'K', 'R', 'P', 'F', 'S', 'T', 'L', 'Q', 'H', 'D', 'N']

function letters({ question, line, before, character }: Place, start: number): ProgramCompletion[] {
  const { program } = question
  const written = new Set(program.wordsOf(line).map(({ letter }) => letter))
  const dialect = dialectOf(question.dialect)
  const refused = dialect.compact ? new Set(['Q', 'H', 'D']) : new Set<string>()
  const now = placeBefore(program, line)
  return AXIS_LETTERS.filter(letter => !written.has(letter) && !refused.has(letter)).flatMap(letter => {
    const title = LETTERS.get(letter)
    if (title === undefined || (letter === 'N' && before.trim() !== '')) return []
    const axis = 'XYZ'.indexOf(letter)
    const here = axis >= 0 && now && Number.isFinite(now[axis]) ? `, now ${mm(now[axis])}` : ''
    const detail = `${title}${here}`
    return [{ kind: 'word' as const, label: letter, detail, start, end: character, text: letter }]
  })
}

/** Where the bit is before a line, mm in program coordinates. */
function placeBefore(program: Program, line: number): number[] | undefined {
  const motion = lastMotionBefore(program, line)
  if (motion === undefined) return undefined
  const { x, y, z, state } = program.motions
  const { offset } = program.states[state[motion]]
  return [x[motion] - offset[0], y[motion] - offset[1], z[motion] - offset[2]]
}

function bits({ question, character }: Place, start: number): ProgramCompletion[] {
  return [...(question.sheet?.bits.values() ?? [])].map(bit => ({
    kind: 'bit',
    label: `T${bit.number}`,
    detail: bit.name,
    about: bitText(bit),
    start,
    end: character,
    text: `T${bit.number}`,
  }))
}

/** Feeds and speeds reckoned for the bit that is in the spindle there. */
function rates({ question, line, character }: Place, start: number, letter: string): ProgramCompletion[] {
  return ratesAt({ ...question, line }, letter === 'F' ? 'feed' : 'speed').map(({ value, detail }) => ({
    kind: 'rate',
    label: `${letter}${number(value, 2)}`,
    detail,
    start,
    end: character,
    text: `${letter}${number(value, 2)}`,
  }))
}

/** Parameters that the program uses; a dialect without any has none. */
function parameters({ question, character, line }: Place, start: number): ProgramCompletion[] {
  const { compact, strict } = dialectOf(question.dialect)
  if (compact) return []
  const { text } = question
  const end = closed(text.line(line), character)
  const known = new Map<string, number>()
  for (const { kind, name, role, span } of allUses(text).uses) {
    if (kind !== 'parameter' || (strict && name.startsWith('<')) || (span.line === line && span.start === start))
      continue
    if (role === 'set' || !known.has(name)) known.set(name, role === 'set' ? span.line : (known.get(name) ?? -1))
  }
  return [...known].map(([name, setOn]) => ({
    kind: 'parameter',
    label: `#${name}`,
    detail: setOn >= 0 ? `set on line ${setOn + 1}` : 'set nowhere in this program',
    start,
    end,
    text: `#${name}`,
  }))
}

/** Past the `>` that an editor may have put after the caret. */
const closed = (line: string, character: number) => (line[character] === '>' ? character + 1 : character)

/** O words are of the kept extensions. */
function hasFlow({ dialect }: CompletionQuestion): boolean {
  const { compact, strict } = dialectOf(dialect)
  return !compact && !strict
}

/** Numbers that M98 may call. */
function calledByNumber({ question, character }: Place, start: number): ProgramCompletion[] {
  if (!hasFlow(question)) return []
  const { uses } = allUses(question.text)
  const begun = uses.filter(({ kind, role, says }) => kind === 'subprogram' && role === 'definition' && says === '')
  return begun.map(({ name, span }) => ({
    kind: 'subprogram',
    label: `P${name}`,
    detail: `begins on line ${span.line + 1}`,
    start,
    end: character,
    text: `P${name}`,
  }))
}

/** Names that O words go by, to call them or to close them. */
function subprograms({ question, before, character, line }: Place): ProgramCompletion[] {
  if (!hasFlow(question)) return []
  const { text } = question
  const start = before.search(O_WORD)
  const end = closed(text.line(line), character)
  const known = new Map<string, number>()
  for (const { kind, name, role, span, says } of allUses(text).uses) {
    if (kind !== 'subprogram' || span.line === line) continue
    if (role === 'definition' && (says === 'sub' || !known.has(name))) known.set(name, span.line)
  }
  return [...known].flatMap(([name, begun]) => {
    const detail = `begins on line ${begun + 1}`
    const isSub = allUses(text).uses.some(use => use.name === name && use.says === 'sub')
    const call = { kind: 'subprogram' as const, label: `o${name} call`, detail, start, end, text: `o${name} call` }
    return [...(isSub ? [call] : []), { ...call, label: `o${name}`, text: `o${name}` }]
  })
}

function flowWords({ question, character }: Place, start: number): ProgramCompletion[] {
  if (!hasFlow(question)) return []
  return glossary.FLOW_NAMES.map(name => ({
    kind: 'flow',
    label: name,
    detail: glossary.meaningOfFlow(name)?.title,
    start,
    end: character,
    text: name,
  }))
}

function functions({ question, before, character }: Place): ProgramCompletion[] {
  const dialect = dialectOf(question.dialect)
  if (dialect.compact) return []
  const typed = /(?<![a-zA-Z])[a-zA-Z]*$/.exec(before)?.[0] ?? ''
  const names = glossary.FUNCTION_NAMES.filter(name => name !== 'exists' || !dialect.strict)
  return names.map(name => ({
    kind: 'function',
    label: name.toUpperCase(),
    detail: glossary.meaningOfFunction(name)?.title,
    start: character - typed.length,
    end: character,
    text: `${name.toUpperCase()}[`,
  }))
}

/** Operations with their numbers reckoned: whole lines. */
function operations({ question, line, character }: Place): ProgramCompletion[] {
  return operationsAt({ ...question, line }).map(({ title, about, parameters, lines, bit }) => {
    const numbers = parameters.map(({ title: name, value, unit }) => `- ${name}: ${value} ${unit}`.trimEnd())
    return {
      kind: 'operation',
      label: title,
      detail: `${about}; ${lines.length} lines`,
      about: `Reckoned from the job, for ${bit.name}:\n\n${numbers.join('\n')}`,
      start: 0,
      end: character,
      text: lines.join('\n'),
    }
  })
}
