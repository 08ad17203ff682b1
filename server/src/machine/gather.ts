import { Token, type TokenBuffer } from '../syntax/tokens.ts'
import { type Block, letterIndex } from './block.ts'
import { Reading } from './dialect.ts'
import { readTwoWays } from './readTwoWays.ts'
import type { Run } from './run.ts'
import { CODES, codeName, Group, LETTERS } from './words.ts'

/** Letters with a meaning, one bit each. */
const KNOWN = [...LETTERS.keys()].reduce((mask, letter) => mask | (1 << letterIndex(letter)), 0)
const E = 4

/** Settings wait until every value of the line is read: NISTIR 6556, 3.3.3. */
export interface Setting {
  readonly target: number | string
  readonly value: number
}

const decoder = new TextDecoder()
const textOf = (run: Run, start: number, end: number): string => decoder.decode(run.bytes.subarray(start, end))

/**
 * Gathers the words of the line whose tokens begin at `from` into the block, and reports what breaks the language.
 * A word that cannot be read is left out; the others still count. Of two words with one letter the first counts.
 *
 * @returns the index of the first token after the line end.
 */
export function gather(run: Run, tokens: TokenBuffer, from: number, settings: Setting[]): number {
  const { block } = run
  const { kind, start, end, value, count } = tokens
  let i = from
  for (; i < count; i++) {
    const k = kind[i]
    if (k === Token.lineEnd) {
      block.end = start[i]
      if (block.suspect && !run.quiet) readTwoWays(run, tokens, from, i)
      return i + 1
    }
    if (k >= 65) {
      if (block.firstWord < 0) block.firstWord = start[i]
      block.lastWord = end[i]
      word(run, block, k - 65, value[i], start[i], end[i])
      continue
    }
    other(run, tokens, i, settings)
  }
  block.end = run.bytes.length
  return i
}

function word(run: Run, block: Block, letter: number, value: number, start: number, end: number): void {
  const bit = 1 << letter
  if (letter === 6) gWord(run, block, value, start, end)
  else if (letter === 12) mWord(run, block, value, start, end)
  else if ((KNOWN & bit) === 0) unknownLetter(run, block, letter, value, start, end)
  else plainWord(run, block, letter, bit, value, start, end)
}

function plainWord(
  run: Run,
  block: Block,
  letter: number,
  bit: number,
  value: number,
  start: number,
  end: number,
): void {
  if ((block.seen & bit) !== 0) {
    const name = String.fromCharCode(65 + letter)
    run.problem(
      'syntax/duplicate-word',
      run.span(start, end),
      `There are two ${name} words on this line. The machine refuses the line or obeys only one of them: keep the one that is meant.`,
    )
    return
  }
  block.seen |= bit
  block.has |= bit
  block.value[letter] = value
  block.wordStart[letter] = start
  block.wordEnd[letter] = end
}

function unknownLetter(run: Run, block: Block, letter: number, value: number, start: number, end: number): void {
  const name = String.fromCharCode(65 + letter)
  if (letter === E) {
    // `X1e3` is somebody's 1000, `E0.5` on its own is the feed of a printer's filament.
    const apart = start === block.firstWord || run.bytes[start - 1] === 32 || run.bytes[start - 1] === 9
    if (apart || !Number.isInteger(value)) {
      run.forPrinter(run.span(start, end))
      return
    }
    block.suspect = true
  }
  run.problem(
    'syntax/bad-word',
    run.span(start, end),
    letter === E
      ? 'There is no E word and no power of ten in this language. Write the number out, like X1000.'
      : `No word begins with ${name}. The machine will refuse the line or pass over the word: take it out, or write the letter that is meant.`,
  )
}

/** Ten times the number of a code, or -1 where it is none. */
function tenths(value: number): number {
  const number = Math.round(value * 10)
  return Math.abs(value * 10 - number) <= 0.001 && number >= 0 && number < 1000 ? number : -1
}

function gWord(run: Run, block: Block, value: number, start: number, end: number): void {
  const code = tenths(value)
  const reading = code < 0 ? Reading.unknown : run.dialect.g[code]
  if (reading !== Reading.known && !refused(run, 'G', code, reading, value, start, end)) return
  const group = run.dialect.groupOfG[code]
  block.gCount++
  if (group === Group.once) {
    // Dwell and machine coordinates go with other words; the others of the group want the axis words for themselves.
    if (code === 40) {
      block.dwell = true
      return
    }
    if (code === 530) {
      block.machineCoordinates = true
      return
    }
  }
  if (block.g[group] >= 0) {
    const other = codeName('G', block.g[group])
    const name = codeName('G', code)
    run.problem(
      'syntax/modal-clash',
      run.span(start, end),
      other === name
        ? `${name} stands twice on this line. The machine refuses that: take one of them out.`
        : `${name} and ${other} cannot both hold on one line. The machine refuses the line, or obeys the last: keep the one that is meant.`,
    )
    return
  }
  block.g[group] = code
  block.gStart[group] = start
  block.gEnd[group] = end
}

const PRINTER = new Set([820, 830, 1040, 1050, 1060, 1070, 1090, 1400, 1900])

function mWord(run: Run, block: Block, value: number, start: number, end: number): void {
  if (PRINTER.has(Math.round(value * 10))) {
    run.forPrinter(run.span(start, end))
    return
  }
  const code = tenths(value)
  const reading = code < 0 ? Reading.unknown : run.dialect.m[code]
  if (reading !== Reading.known && !refused(run, 'M', code, reading, value, start, end)) return
  const group = run.dialect.groupOfM[code]
  const slot = group - 100
  block.mCount++
  // Mist and flood may run together: Table 4, group 8.
  const both = code !== block.m[slot] && group === Group.coolant && code !== 90 && block.m[slot] !== 90
  if (block.m[slot] >= 0 && !both) {
    const other = codeName('M', block.m[slot])
    const name = codeName('M', code)
    run.problem(
      'syntax/modal-clash',
      run.span(start, end),
      other === name
        ? `${name} stands twice on this line. The machine refuses that: take one of them out.`
        : `${name} and ${other} cannot both hold on one line. The machine refuses the line, or obeys the last: keep the one that is meant.`,
    )
    return
  }
  if (group === Group.calls) run.calls = true
  block.m[slot] = code
  block.mStart[slot] = start
  block.mEnd[slot] = end
}

/** Says what is wrong with a code that the dialect does not know; whether it can be obeyed all the same. */
function refused(
  run: Run,
  letter: string,
  code: number,
  reading: number,
  value: number,
  start: number,
  end: number,
): boolean {
  const span = run.span(start, end)
  const name = code < 0 ? `${letter}${value}` : codeName(letter, code)
  if (reading === Reading.added) {
    run.cannotSimulate(span, `${name} is accepted because the job sheet adds it, but what it does is not known here.`)
    return false
  }
  if (reading === Reading.refused) {
    const instead = CODES.get(name)?.instead
    const title = CODES.get(name)?.title
    run.departure(
      name,
      span,
      `${name}${title ? ` (${title})` : ''} is not in ${run.dialect.name}: the machine stops with an error there.${instead ? ` Write ${instead}.` : ''}`,
    )
    return true
  }
  run.problem(
    'syntax/unknown-code',
    span,
    `${name} means nothing in this language. The machine will stop with an error or do something of its own: take it out, or write the code that is meant.`,
  )
  return false
}

function other(run: Run, tokens: TokenBuffer, i: number, settings: Setting[]): void {
  const { block, dialect } = run
  const kind = tokens.kind[i]
  const start = tokens.start[i]
  const end = tokens.end[i]
  switch (kind) {
    case Token.comment:
    case Token.lineComment:
    case Token.nestedComment:
      comment(run, tokens, i)
      return
    case Token.expression: {
      if (block.firstWord < 0) block.firstWord = start
      block.lastWord = end
      refuseExpressions(run, start, end)
      if (run.onlyText) return
      const value = run.expressions.evaluate(run.bytes, start + 1, end)
      const error = run.expressions.error
      if (error) run.problem('syntax/bad-expression', run.span(error.start, error.end), error.message)
      const letter = (run.bytes[start] & 0xdf) - 65
      if (error) block.seen |= 1 << letter
      else word(run, block, letter, value, start, end)
      return
    }
    case Token.setting: {
      if (block.firstWord < 0) block.firstWord = start
      block.lastWord = end
      refuseExpressions(run, start, end)
      if (!run.onlyText) setting(run, start, end, settings)
      return
    }
    case Token.percent:
      return
    case Token.checksum:
      checksum(run, start, end, tokens.value[i])
      return
    case Token.flow:
      run.calls = true
      if (block.firstWord < 0) block.firstWord = start
      block.lastWord = end
      if (dialect.strict || dialect.compact) {
        run.departure('O', run.span(start, end), `O words are not in ${dialect.name}: the machine stops there.`)
      }
      return
    case Token.blockDelete:
      if (block.firstWord >= 0 || block.deleted) {
        run.problem('syntax/bad-word', run.span(start, end), 'A slash may stand only at the very beginning of a line.')
      } else if (dialect.compact) {
        run.departure('/', run.span(start, end), `Block delete (/) is not in ${dialect.name}: the line is refused.`)
      }
      block.deleted = true
      return
    case Token.machineSetting:
      if (!dialect.compact || block.firstWord >= 0) {
        run.problem('syntax/bad-word', run.span(start, end), 'This is a setting of a machine, not a word of a program.')
      }
      return
    case Token.badText:
      run.problem(
        'syntax/bad-word',
        run.span(start, end),
        `“${textOf(run, start, Math.min(end, start + 40))}” is no word: one is a letter and a number. The machine will refuse the line; a remark belongs in ( ).`,
      )
      return
    case Token.badNumber: {
      const text = textOf(run, start, Math.min(end, start + 40))
      const letter = (run.bytes[start] & 0xdf) - 65
      block.suspect = true
      if (block.firstWord < 0) block.firstWord = start
      block.lastWord = end
      const noughts = `${text[0].toUpperCase()}${text.slice(1).replace(/o/gi, '0')}`
      const digits = noughts.slice(1).replace(/[ \t]/g, '')
      const isMeant = noughts !== text.toUpperCase() && /^[-+]?(?:\d+(?:\.\d*)?|\.\d+)$/.test(digits)
      run.problem(
        'syntax/bad-number',
        run.span(start, end),
        end === start + 1
          ? `${text.toUpperCase()} has no number. The machine will refuse the line: write the number, or take the letter out.`
          : isMeant
            ? `${text} has the letter O where a nought is meant. The machine will refuse the line: write ${noughts}.`
            : `${text} holds no number that can be read. Write it with one decimal point and at most one sign, like ${text[0].toUpperCase()}1.5.`,
      )
      // One slip, one finding: the rest of the job is judged with the number that is plainly meant.
      if (isMeant) word(run, block, letter, Number(digits), start, end)
      else block.seen |= 1 << letter
      return
    }
    case Token.unclosedComment:
      run.problem(
        'syntax/unclosed-comment',
        run.span(start, end),
        'This comment is not closed on its line. The machine will refuse the line: write ) at its end.',
      )
      comment(run, tokens, i)
      return
    case Token.badExpression: {
      const letter = run.bytes[start] & 0xdf
      if (letter >= 65 && letter <= 90) block.seen |= 1 << (letter - 65)
      run.expressions.evaluate(run.bytes, letter >= 65 && letter <= 90 ? start + 1 : start, end)
      run.problem(
        'syntax/bad-expression',
        run.span(start, end),
        run.expressions.error?.message ?? 'This cannot be worked out: a setting is #1 = 2, a value is [1 + 2] or #1.',
      )
      return
    }
  }
}

/** `*nn` of lines sent over a wire: all bytes of the line before it, one XOR the next. */
export function checksumOf(bytes: Uint8Array, from: number, to: number): number {
  let sum = 0
  for (let i = from; i < to; i++) sum ^= bytes[i]
  return sum
}

function checksum(run: Run, start: number, end: number, value: number): void {
  const sum = checksumOf(run.bytes, run.block.start, start)
  if (sum === value) return
  run.problem(
    'syntax/bad-number',
    run.span(start, end),
    `The checksum of this line is ${sum}, not ${value}: the line has been changed since it was made, and the machine will ask for it again. Take the checksum off, or write *${sum}.`,
    { found: value, limit: sum },
  )
}

function refuseExpressions(run: Run, start: number, end: number): void {
  if (!run.dialect.compact) return
  run.departure(
    '#',
    run.span(start, end),
    `Parameters and expressions are not in ${run.dialect.name}: the line is refused. Write the number itself.`,
  )
}

function setting(run: Run, start: number, end: number, settings: Setting[]): void {
  const reader = run.expressions
  const target = reader.target(run.bytes, start, end)
  if (target === undefined) {
    const { error } = reader
    if (error) run.problem('syntax/bad-expression', run.span(error.start, error.end), error.message)
    return
  }
  let at = reader.at
  while (at < end && run.bytes[at] !== 61) at++
  const value = reader.evaluate(run.bytes, at + 1, end)
  if (reader.error) {
    run.problem('syntax/bad-expression', run.span(reader.error.start, reader.error.end), reader.error.message)
    return
  }
  settings.push({ target, value })
}

function comment(run: Run, tokens: TokenBuffer, i: number): void {
  const { block } = run
  const kind = tokens.kind[i]
  const start = tokens.start[i]
  const end = tokens.end[i]
  const alone = block.firstWord < 0 || (block.seen === 1 << 13 && block.gCount + block.mCount === 0)
  const last = i + 1 >= tokens.count || tokens.kind[i + 1] === Token.lineEnd
  if (kind === Token.lineComment && run.dialect.strict) {
    run.departure(
      ';',
      run.span(start, end),
      'A comment after ; is not in the standard alone: the line is refused. Write it in ( ).',
    )
  }
  if (kind === Token.nestedComment) {
    run.problem(
      'syntax/unclosed-comment',
      run.span(start, end),
      'A bracket opens inside this comment. The machine ends the comment at the first ) and takes the rest for words, or refuses the line: use other signs inside.',
    )
  }
  const closed = kind === Token.comment || kind === Token.nestedComment
  if (run.quiet) return
  run.out.comments.push({ line: block.line, lineStart: block.start, start, end, closed, alone: alone && last })
}
