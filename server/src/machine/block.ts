/** Number of a letter in the arrays of a block: A is 0. */
export const letterIndex = (letter: string): number => letter.charCodeAt(0) - 65
const bit = (letters: string): number => [...letters].reduce((mask, letter) => mask | (1 << letterIndex(letter)), 0)

export const A = 0
export const B = 1
export const C = 2
export const D = 3
export const F = 5
export const H = 7
export const I = 8
export const J = 9
export const K = 10
export const L = 11
export const N = 13
export const P = 15
export const Q = 16
export const R = 17
export const S = 18
export const T = 19
export const X = 23
export const Y = 24
export const Z = 25

export const AXES = bit('XYZ')
export const ROTARY = bit('ABC')

/** The words of one line, gathered before anything is done: NISTIR 6556 executes them in an order of its own. */
export class Block {
  /** 0-based line, and the bytes it covers. */
  line = 0
  start = 0
  end = 0
  /** One bit a letter (A is bit 0) that stands on the line with a value. */
  has = 0
  /** The same, with those whose value could not be read. */
  seen = 0
  value = new Float64Array(26)
  wordStart = new Uint32Array(26)
  wordEnd = new Uint32Array(26)
  /** G words by modal group: ten times the number, or -1; and where they stand. */
  g = new Int16Array(16).fill(-1)
  gStart = new Uint32Array(16)
  gEnd = new Uint32Array(16)
  /** Codes of group 0 that can stand together: G4 and G53 beside another. */
  dwell = false
  machineCoordinates = false
  gCount = 0
  m = new Int16Array(16).fill(-1)
  mStart = new Uint32Array(16)
  mEnd = new Uint32Array(16)
  mCount = 0
  /** First byte of the first word and one past the last: what a finding on the whole line covers. */
  firstWord = -1
  lastWord = -1
  deleted = false
  /** Something on the line may be read in more ways than one. */
  suspect = false

  reset(line: number, start: number): void {
    this.line = line
    this.start = start
    this.has = 0
    this.seen = 0
    if (this.gCount > 0) {
      this.g.fill(-1)
      this.gCount = 0
      this.dwell = false
      this.machineCoordinates = false
    }
    if (this.mCount > 0) {
      this.m.fill(-1)
      this.mCount = 0
    }
    this.firstWord = -1
    this.lastWord = -1
    this.suspect = false
    this.deleted = false
  }

  holds(letter: number): boolean {
    return (this.has & (1 << letter)) !== 0
  }
}
