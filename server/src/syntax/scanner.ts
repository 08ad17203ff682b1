import { isBlank, isDigit, isLetter, isLineEnd, NEWLINE, POWERS, RETURN, SPACE, squeezed, TAB } from './characters.ts'
import { FUNCTIONS } from './names.ts'
import { Token, type TokenBuffer } from './tokens.ts'

const O_LARGE = 79
const O_SMALL = 111

/** What may stand right behind a number so that it is no doubt over: 1; a blank, behind which one must look again: 2. */
const BLANK = 2
const FOLLOWS = Uint8Array.from({ length: 256 }, (_, byte) =>
  isBlank(byte)
    ? BLANK
    : isLineEnd(byte) || byte === 40 || byte === 59 || (isLetter(byte) && byte !== O_LARGE && byte !== O_SMALL)
      ? 1
      : 0,
)

/**
 * Reads a number as nearly all are written: a sign at most, then digits with at most one point among them, nine at
 * most, and behind it no doubt that it is over. Whole numbers of 32 bits hold its digits, and one division makes the
 * double.
 *
 * @param into gets the number at `slot`.
 * @returns where to read on: behind the number and the blank that may follow it; -1 where it must be read with care.
 */
export function plainNumber(bytes: Uint8Array, at: number, into: Float64Array, slot: number): number {
  let p = at
  const negative = bytes[p] === 45
  if (negative) p++
  const digitsFrom = p
  let mantissa = 0
  let digit = bytes[p] - 48
  while (digit >>> 0 <= 9) {
    mantissa = (Math.imul(mantissa, 10) + digit) | 0
    digit = bytes[++p] - 48
  }
  let digits = p - digitsFrom
  let magnitude = mantissa
  if (digit === -2) {
    const decimalsFrom = ++p
    digit = bytes[p] - 48
    while (digit >>> 0 <= 9) {
      mantissa = (Math.imul(mantissa, 10) + digit) | 0
      digit = bytes[++p] - 48
    }
    const decimals = p - decimalsFrom
    digits += decimals
    if (digits > 9) return -1
    magnitude = mantissa / POWERS[decimals]
  }
  if (digits === 0 || digits > 9) return -1
  let next = FOLLOWS[digit + 48]
  if (next === BLANK) next = FOLLOWS[bytes[++p]] | (bytes[p] === O_SMALL || bytes[p] === O_LARGE ? 1 : 0)
  if (next !== 1) return -1
  into[slot] = negative ? -magnitude : magnitude
  return p
}

/**
 * Reads up to `maxLines` lines of UTF-8 from `from` into `out` (which is emptied first).
 *
 * `bytes` must end in a line end: the caller adds one, so that no byte needs a bounds check. Blanks mean nothing
 * outside comments (NISTIR 6556, 3.3.1), even inside a number. Never throws; what is no language becomes a token
 * of an error kind that covers all of the mistake, so that one mistake makes one finding.
 *
 * @returns the offset after the last line read.
 */
export function scan(bytes: Uint8Array, from: number, maxLines: number, out: TokenBuffer): number {
  let { kind, start, end, value } = out
  let size = kind.length
  let n = 0
  let i = from
  let lines = 0
  const last = bytes.length
  while (i < last) {
    const c = bytes[i]
    if (c === SPACE || c === TAB) {
      i++
      continue
    }
    if (n === size) {
      out.grow()
      ;({ kind, start, end, value } = out)
      size = kind.length
    }
    start[n] = i
    const letter = c & 0xdf
    if (letter >= 65 && letter <= 90 && c >= 65) {
      const next = letter === O_LARGE ? -1 : plainNumber(bytes, i + 1, value, n)
      if (next > 0) {
        kind[n] = letter
        end[n] = bytes[next - 1] <= SPACE ? next - 1 : next
        i = next
      } else i = scanWord(bytes, i, n, out)
      n++
      continue
    }
    value[n] = Number.NaN
    if (c === NEWLINE || c === RETURN) {
      kind[n] = Token.lineEnd
      i += c === RETURN && bytes[i + 1] === NEWLINE ? 2 : 1
      end[n] = i
      n++
      if (++lines === maxLines) break
      continue
    }
    i = scanOther(bytes, i, n, out)
    n++
  }
  out.count = n
  out.lines = lines
  return i
}

/** Any word, however it is written. Returns where to read on. */
function scanWord(bytes: Uint8Array, at: number, n: number, out: TokenBuffer): number {
  const { kind, end, value } = out
  const letter = bytes[at] & 0xdf
  let p = skipBlanks(bytes, at + 1)
  let d = bytes[p]
  if (letter === O_LARGE || !((d >= 45 && d <= 57 && d !== 47) || d === 43)) return scanOddWord(bytes, at, p, n, out)
  const negative = d === 45
  if (d === 45 || d === 43) p = skipBlanks(bytes, p + 1)
  const digitsFrom = p
  let digits = 0
  let mantissa = 0
  let decimals = 0
  let stop = p
  const run = (): number => {
    const before = digits
    for (d = bytes[p]; isDigit(d) || isBlank(d); d = bytes[++p]) {
      if (isBlank(d)) continue
      mantissa = mantissa * 10 + (d - 48)
      digits++
      stop = p + 1
    }
    return digits - before
  }
  run()
  if (d === 46) {
    stop = ++p
    decimals = run()
  }
  value[n] = Number.NaN
  if (digits === 0 && (d === 91 || d === 35)) {
    // `X-[…]`: a sign before brackets is not in the grammar.
    kind[n] = Token.badExpression
    end[n] = Math.max(p + 1, Math.abs(endOfValue(bytes, p)))
    return end[n]
  }
  // The letter O stuck to a number is a nought gone wrong; O words begin a line, at most after its N.
  const nought = (d === O_LARGE || d === O_SMALL) && stop === p && letter !== 78
  if (digits === 0 || d === 46 || d === 44 || d === 43 || d === 45 || d === 91 || nought) {
    kind[n] = Token.badNumber
    end[n] = endOfBadNumber(bytes, Math.max(stop, at + 1), p)
    return end[n]
  }
  // An integer below 2^53 over a power of ten is rounded once: the same double that Number() gives.
  const exact = mantissa < 9007199254740992 && decimals <= 22
  const magnitude = exact ? mantissa / POWERS[decimals] : Number(squeezed(bytes, digitsFrom, stop))
  end[n] = stop
  // Hundreds of digits are beyond every double: no motion may go to infinity.
  const readable = Number.isFinite(magnitude)
  kind[n] = readable ? letter : Token.badNumber
  if (readable) value[n] = negative ? -magnitude : magnitude
  return p
}

/** A letter that is not followed by a plain number. */
function scanOddWord(bytes: Uint8Array, at: number, valueAt: number, n: number, out: TokenBuffer): number {
  const { kind, end, value } = out
  value[n] = Number.NaN
  if ((bytes[at] & 0xdf) === 79) {
    // An O word takes the rest of the line up to a comment.
    let p = at + 1
    let stop = p
    while (!isLineEnd(bytes[p]) && bytes[p] !== 40 && bytes[p] !== 59) {
      if (!isBlank(bytes[p])) stop = p + 1
      p++
    }
    kind[n] = Token.flow
    end[n] = stop
    return stop
  }
  const next = bytes[valueAt]
  if (next === 79 || next === 111) {
    kind[n] = Token.badNumber
    end[n] = endOfBadNumber(bytes, valueAt + 1, valueAt + 1)
    return end[n]
  }
  if (next === 91 || next === 35 || isLetter(next)) {
    const named = isLetter(next) ? functionEnd(bytes, valueAt) : valueAt
    if (named >= 0) {
      const stop = endOfValue(bytes, valueAt)
      kind[n] = stop > 0 ? Token.expression : Token.badExpression
      end[n] = Math.abs(stop)
      return end[n]
    }
  }
  kind[n] = Token.badNumber
  // What stands right behind the letter was meant to be its number.
  let p = valueAt
  while (!beginsSomething(bytes[p])) p++
  end[n] = p > valueAt ? p : at + 1
  return end[n]
}

/** Letters of the longest name of a function, misspelt ones included: no more of the line is looked at for one. */
const LONGEST_NAME = 8

/** Where the name of a function before a bracket ends, or -1: `sin[` but also the misspelt `asim[`. */
function functionEnd(bytes: Uint8Array, at: number): number {
  let p = at
  let letters = 0
  while (letters <= LONGEST_NAME && (isLetter(bytes[p]) || isBlank(bytes[p]))) {
    if (isLetter(bytes[p])) letters++
    p++
  }
  return letters >= 2 && bytes[p] === 91 ? p : -1
}

/** The end of the value that begins at `at`; negative where it is broken (its magnitude is where it gives up). */
export function endOfValue(bytes: Uint8Array, at: number): number {
  let p = skipBlanks(bytes, at)
  while (bytes[p] === 35) p = skipBlanks(bytes, p + 1)
  const c = bytes[p]
  if (c === 91) return endOfBrackets(bytes, p)
  if (c === 60) {
    while (bytes[p] !== 62 && !isLineEnd(bytes[p])) p++
    return bytes[p] === 62 ? p + 1 : -p
  }
  if (isLetter(c)) {
    const open = functionEnd(bytes, p)
    if (open < 0) return -(p + 1)
    const name = squeezed(bytes, p, open)
    const stop = endOfBrackets(bytes, open)
    if (stop < 0) return stop
    if (name === 'atan') {
      const slash = skipBlanks(bytes, stop)
      if (bytes[slash] !== 47) return -stop
      const second = skipBlanks(bytes, slash + 1)
      return bytes[second] === 91 ? endOfBrackets(bytes, second) : -second
    }
    return FUNCTIONS.has(name) ? stop : -stop
  }
  if (c === 43 || c === 45) p = skipBlanks(bytes, p + 1)
  let stop = p
  let digits = 0
  let points = 0
  while (isDigit(bytes[p]) || isBlank(bytes[p]) || (bytes[p] === 46 && points === 0)) {
    if (isDigit(bytes[p])) digits++
    if (bytes[p] === 46) points++
    if (!isBlank(bytes[p])) stop = p + 1
    p++
  }
  return digits > 0 ? stop : -Math.max(stop, at + 1)
}

/** The end of a bracketed group, by counting: nesting costs no stack. Negative where the line ends first. */
function endOfBrackets(bytes: Uint8Array, open: number): number {
  let depth = 0
  let p = open
  let stop = p + 1
  while (!isLineEnd(bytes[p]) && bytes[p] !== 40 && bytes[p] !== 59) {
    if (bytes[p] === 91) depth++
    else if (bytes[p] === 93 && --depth === 0) return p + 1
    if (!isBlank(bytes[p])) stop = p + 1
    p++
  }
  return -stop
}

/** Comments, settings and the signs that stand alone. */
function scanOther(bytes: Uint8Array, at: number, n: number, out: TokenBuffer): number {
  const { kind, end } = out
  const c = bytes[at]
  const finish = (what: number, stop: number): number => {
    kind[n] = what
    end[n] = stop
    return stop
  }
  if (c === 40) {
    let depth = 0
    let nested = false
    let firstClose = -1
    let p = at
    for (; !isLineEnd(bytes[p]); p++) {
      if (bytes[p] === 40) {
        depth++
        if (p > at && firstClose < 0) nested = true
      } else if (bytes[p] === 41) {
        if (firstClose < 0) firstClose = p + 1
        if (!nested) break
        if (--depth === 0) break
      }
    }
    if (firstClose < 0) return finish(Token.unclosedComment, trimEnd(bytes, at, p))
    if (!nested) return finish(Token.comment, firstClose)
    return depth === 0 ? finish(Token.nestedComment, p + 1) : finish(Token.comment, firstClose)
  }
  if (c === 59) return finish(Token.lineComment, trimEnd(bytes, at, endOfLine(bytes, at)))
  if (c === 35) {
    const left = endOfValue(bytes, at)
    const equals = skipBlanks(bytes, Math.abs(left))
    if (left > 0 && bytes[equals] === 61) {
      const stop = endOfValue(bytes, equals + 1)
      return stop > 0 ? finish(Token.setting, stop) : finish(Token.badExpression, Math.min(-stop, endOfLine(bytes, at)))
    }
    return finish(Token.badExpression, Math.max(at + 1, Math.min(Math.abs(left), endOfLine(bytes, at))))
  }
  if (c === 37) return finish(Token.percent, at + 1)
  if (c === 47) return finish(Token.blockDelete, at + 1)
  if (c === 36) return finish(Token.machineSetting, trimEnd(bytes, at, endOfLine(bytes, at)))
  if (c === 42) {
    let p = skipBlanks(bytes, at + 1)
    const digits = p
    while (isDigit(bytes[p])) p++
    if (p > digits && p - digits <= 3) {
      out.value[n] = Number(squeezed(bytes, digits, p))
      return finish(Token.checksum, p)
    }
  }
  let p = at + 1
  while (!beginsSomething(bytes[p])) p++
  return finish(Token.badText, trimEnd(bytes, at, p))
}

const beginsSomething = (c: number): boolean =>
  isLetter(c) || isLineEnd(c) || isBlank(c) || c === 40 || c === 59 || c === 35 || c === 37 || c === 42

function endOfBadNumber(bytes: Uint8Array, least: number, at: number): number {
  let p = at
  let stop = least
  while (true) {
    const c = bytes[p]
    // A letter O counts among digits here, if nothing stands between.
    const nought = (c === 79 || c === 111) && p === stop
    if (isDigit(c) || c === 46 || c === 44 || c === 43 || c === 45 || nought) stop = ++p
    else if (isBlank(c)) p++
    else if (c === 91) {
      const to = Math.abs(endOfValue(bytes, p))
      stop = p = Math.max(p + 1, to)
    } else return stop
  }
}

function skipBlanks(bytes: Uint8Array, at: number): number {
  let p = at
  while (isBlank(bytes[p])) p++
  return p
}

function endOfLine(bytes: Uint8Array, at: number): number {
  let p = at
  while (p < bytes.length && !isLineEnd(bytes[p])) p++
  return p
}

function trimEnd(bytes: Uint8Array, from: number, to: number): number {
  let p = to
  while (p > from + 1 && isBlank(bytes[p - 1])) p--
  return p
}
