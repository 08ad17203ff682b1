import { isBlank, isDigit, isLetter, squeezed } from './characters.ts'

/** Where parameters are read from while an expression is worked out. */
export interface ParameterReader {
  /** The value of a numbered parameter; 0 where it was never set, as the standard has it. */
  numbered(index: number): number
  /** The value of a named parameter; undefined where it was never set. */
  named(name: string): number | undefined
}

/** Why a value could not be worked out, and the bytes at fault. */
export interface ExpressionError {
  readonly message: string
  readonly start: number
  readonly end: number
}

/** Deepest nesting of brackets; more is refused rather than risking the stack. */
export const DEEPEST_NESTING = 100

/** Operators by how tightly they bind: NISTIR 6556, 3.3.2.3; the comparisons are of the kept extensions. */
export const BINDING: ReadonlyMap<string, number> = new Map([
  ['**', 4],
  ['*', 3],
  ['/', 3],
  ['mod', 3],
  ['+', 2],
  ['-', 2],
  ['or', 2],
  ['xor', 2],
  ['and', 2],
  ['eq', 1],
  ['ne', 1],
  ['gt', 1],
  ['ge', 1],
  ['lt', 1],
  ['le', 1],
])

const DEGREE = Math.PI / 180

/**
 * Works out one value (number, `[…]`, `#…` or a function) straight from the bytes.
 *
 * Angles are in degrees. Division by zero, roots of negatives and the like are errors, as in the standard; nothing
 * throws. One object serves many values: `value()` moves on from where it is put.
 */
export class ExpressionReader {
  error: ExpressionError | undefined
  /** Offset after the value last read. */
  at = 0
  private bytes: Uint8Array = new Uint8Array(0)
  private stop = 0
  private depth = 0

  constructor(private readonly parameters: ParameterReader) {}

  /** The value at `from`, or NaN with `error` set. Reads no further than `to`. */
  evaluate(bytes: Uint8Array, from: number, to: number): number {
    this.bytes = bytes
    this.at = from
    this.stop = to
    this.depth = 0
    this.error = undefined
    const value = this.value()
    if (!this.error && !Number.isFinite(value)) return this.fail(from, to, 'This gives no number that can be used.')
    return this.error ? Number.NaN : value
  }

  /** The number of the parameter or its name, for the left side of `#… = …`; `at` is left before the `=`. */
  target(bytes: Uint8Array, from: number, to: number): number | string | undefined {
    this.bytes = bytes
    this.at = from
    this.stop = to
    this.depth = 0
    this.error = undefined
    this.blanks()
    this.at++
    this.blanks()
    if (this.peek() === 60) return this.name()
    const start = this.at
    const index = this.value()
    return this.error ? undefined : this.index(index, start)
  }

  private peek(): number {
    return this.at < this.stop ? this.bytes[this.at] : 0
  }

  private blanks(): void {
    while (this.at < this.stop && isBlank(this.bytes[this.at])) this.at++
  }

  private fail(start: number, end: number, message: string): number {
    this.error ??= { message, start, end: Math.max(end, start + 1) }
    return Number.NaN
  }

  private name(): string | undefined {
    const start = this.at
    while (this.at < this.stop && this.bytes[this.at] !== 62) this.at++
    if (this.at >= this.stop) {
      this.fail(start, this.stop, 'The name of this parameter is not closed: write #<name>.')
      return undefined
    }
    this.at++
    return squeezed(this.bytes, start + 1, this.at - 1)
  }

  private index(value: number, start: number): number | undefined {
    const index = Math.round(value)
    if (Math.abs(value - index) > 0.0001 || index < 1 || index > 5602) {
      this.fail(start, this.at, `There is no parameter of the number ${value}; they run from 1 to 5399.`)
      return undefined
    }
    return index
  }

  private value(): number {
    this.blanks()
    const start = this.at
    const c = this.peek()
    if (c === 91) return this.bracket()
    if (c === 35) {
      if (++this.depth > DEEPEST_NESTING) return this.tooDeep(start)
      this.at++
      this.blanks()
      if (this.peek() === 60) {
        const name = this.name()
        this.depth--
        if (name === undefined) return Number.NaN
        const value = this.parameters.named(name)
        if (value === undefined) return this.fail(start, this.at, `Nothing has set #<${name}> before this line.`)
        return value
      }
      const from = this.at
      const index = this.index(this.value(), from)
      this.depth--
      return index === undefined ? Number.NaN : this.parameters.numbered(index)
    }
    if (isLetter(c)) return this.call()
    return this.number()
  }

  private tooDeep(start: number): number {
    return this.fail(start, this.stop, `Brackets are nested more than ${DEEPEST_NESTING} deep.`)
  }

  private number(): number {
    const start = this.at
    let text = ''
    let digits = 0
    for (; this.at < this.stop; this.at++) {
      const c = this.bytes[this.at]
      if (isBlank(c)) continue
      const sign = (c === 43 || c === 45) && text === ''
      if (!sign && !isDigit(c) && !(c === 46 && !text.includes('.'))) break
      if (isDigit(c)) digits++
      text += String.fromCharCode(c)
    }
    if (digits > 0) return Number(text)
    if (text !== '' && (this.peek() === 91 || this.peek() === 35)) {
      return this.fail(start, this.at + 1, 'A sign may stand only before a number: write [0 - …].')
    }
    return this.fail(start, this.at, 'A number is missing here.')
  }

  private bracket(): number {
    const start = this.at
    if (++this.depth > DEEPEST_NESTING) return this.tooDeep(start)
    this.at++
    const value = this.operation(0)
    this.depth--
    if (this.error) return Number.NaN
    this.blanks()
    if (this.peek() !== 93) return this.fail(start, this.at, 'This bracket is not closed.')
    this.at++
    return value
  }

  private operation(least: number): number {
    let left = this.value()
    while (!this.error) {
      this.blanks()
      const at = this.at
      const operator = this.operator()
      if (operator === '') break
      const binding = BINDING.get(operator)
      if (binding === undefined) return this.fail(at, this.at, `${operator.toUpperCase()} is no operator.`)
      if (binding <= least) {
        this.at = at
        break
      }
      const right = this.operation(binding)
      if (this.error) break
      left = this.apply(operator, left, right, at)
    }
    return left
  }

  private operator(): string {
    const c = this.peek()
    if (c === 42) {
      this.at++
      this.blanks()
      if (this.peek() !== 42) return '*'
      this.at++
      return '**'
    }
    if (c === 43 || c === 45 || c === 47) {
      this.at++
      return String.fromCharCode(c)
    }
    let text = ''
    const from = this.at
    while (this.at < this.stop && text.length < 3 && (isLetter(this.bytes[this.at]) || isBlank(this.bytes[this.at]))) {
      const letter = this.bytes[this.at++]
      if (isBlank(letter)) continue
      text += String.fromCharCode(letter | 32)
      if (BINDING.has(text)) return text
    }
    if (text === '') this.at = from
    return text
  }

  private apply(operator: string, a: number, b: number, at: number): number {
    switch (operator) {
      case '+':
        return a + b
      case '-':
        return a - b
      case '*':
        return a * b
      case '/':
        return b === 0 ? this.fail(at, this.at, 'This divides by zero.') : a / b
      case '**':
        if (a < 0 && !Number.isInteger(b)) {
          return this.fail(at, this.at, 'A negative number can be raised to whole powers only.')
        }
        return a ** b
      case 'mod': {
        if (b === 0) return this.fail(at, this.at, 'This divides by zero.')
        const rest = a % b
        return rest < 0 ? rest + Math.abs(b) : rest
      }
      case 'or':
        return a !== 0 || b !== 0 ? 1 : 0
      case 'xor':
        return (a !== 0) !== (b !== 0) ? 1 : 0
      case 'and':
        return a !== 0 && b !== 0 ? 1 : 0
      case 'eq':
        return a === b ? 1 : 0
      case 'ne':
        return a !== b ? 1 : 0
      case 'gt':
        return a > b ? 1 : 0
      case 'ge':
        return a >= b ? 1 : 0
      case 'lt':
        return a < b ? 1 : 0
      default:
        return a <= b ? 1 : 0
    }
  }

  private call(): number {
    const start = this.at
    let text = ''
    for (; this.at < this.stop && (isLetter(this.bytes[this.at]) || isBlank(this.bytes[this.at])); this.at++) {
      if (isLetter(this.bytes[this.at])) text += String.fromCharCode(this.bytes[this.at] | 32)
    }
    if (this.peek() !== 91) return this.fail(start, this.at, 'A number is missing here.')
    if (text === 'exists') return this.exists()
    const a = this.bracket()
    if (this.error) return Number.NaN
    if (text === 'atan') {
      this.blanks()
      if (this.peek() !== 47) return this.fail(start, this.at, 'ATAN takes two values: write ATAN[…]/[…].')
      this.at++
      this.blanks()
      if (this.peek() !== 91) return this.fail(start, this.at, 'ATAN takes two values: write ATAN[…]/[…].')
      const b = this.bracket()
      return this.error ? Number.NaN : Math.atan2(a, b) / DEGREE
    }
    const value = functionValue(text, a)
    if (value === undefined) return this.fail(start, this.at, `There is no function ${text.toUpperCase()}.`)
    if (Number.isNaN(value)) return this.fail(start, this.at, `${text.toUpperCase()} of ${a} does not exist.`)
    return value
  }

  private exists(): number {
    const start = this.at++
    this.blanks()
    if (this.peek() !== 35) return this.fail(start, this.at, 'EXISTS asks after a named parameter: EXISTS[#<name>].')
    this.at++
    this.blanks()
    const name = this.peek() === 60 ? this.name() : undefined
    this.blanks()
    if (name === undefined || this.peek() !== 93) {
      return this.fail(start, this.at, 'EXISTS asks after a named parameter: EXISTS[#<name>].')
    }
    this.at++
    return this.parameters.named(name) === undefined ? 0 : 1
  }
}

/** A function of one value, NISTIR 6556, 3.3.2.4; NaN outside its domain, undefined for a name it does not have. */
function functionValue(name: string, a: number): number | undefined {
  switch (name) {
    case 'abs':
      return Math.abs(a)
    case 'acos':
      return Math.acos(a) / DEGREE
    case 'asin':
      return Math.asin(a) / DEGREE
    case 'cos':
      return Math.cos(a * DEGREE)
    case 'exp':
      return Math.exp(a)
    case 'fix':
      return Math.floor(a)
    case 'fup':
      return Math.ceil(a) + 0
    case 'ln':
      return a > 0 ? Math.log(a) : Number.NaN
    case 'round':
      return Math.sign(a) * Math.floor(Math.abs(a) + 0.5) + 0
    case 'sin':
      return Math.sin(a * DEGREE)
    case 'sqrt':
      return Math.sqrt(a)
    case 'tan':
      return Math.tan(a * DEGREE)
    default:
      return undefined
  }
}
