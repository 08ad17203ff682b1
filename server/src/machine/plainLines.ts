import { NEWLINE, RETURN, SPACE, TAB } from '../syntax/characters.ts'
import { plainNumber } from '../syntax/scanner.ts'
import { centreOfRadius, distance } from './arcs.ts'
import { Reading } from './dialect.ts'
import { radiiMayDiffer } from './moves.ts'
import { closingBracket, lineEndAfter } from './plainComments.ts'
import type { Run } from './run.ts'

/** Where the number of each word is put, and its bit: A is 1. */
const slotOf = (letter: string): number => letter.charCodeAt(0) & 31
const F = slotOf('F')
const G = slotOf('G')
const I = slotOf('I')
const J = slotOf('J')
const K = slotOf('K')
const N = slotOf('N')
const R = slotOf('R')
const X = slotOf('X')
const Y = slotOf('Y')
const Z = slotOf('Z')
const bits = (...slots: readonly number[]): number => slots.reduce((mask, slot) => mask | (1 << slot), 0)
const AXES = bits(X, Y, Z)
const CENTRE = bits(I, J, K)
const ROUND = bits(I, J, K, R)

/** By byte: the bit of a letter that a plain line may have; 0 for all other bytes. */
const BIT = Int32Array.from({ length: 256 }, (_, byte) => {
  const letter = byte & 0xdf
  const known = byte >= 65 && letter <= 90 && 'FGIJKNRXYZ'.includes(String.fromCharCode(letter))
  return known ? 1 << (letter & 31) : 0
})

/** The numbers of the line in hand; as long as there are letters to mask, so that no index is out of bounds. */
const words = new Float64Array(32)

const OPEN = 40
const SEMICOLON = 59

/** Ten times the numbers of G0 to G3, as the memory keeps them. */
const RAPID = 0
const LINE = 10
const CLOCKWISE = 20
const COUNTER_CLOCKWISE = 30

/** Whether a line that holds nothing but G0 to G3, a feed and lengths does nothing here but move the bit as they say. */
function mayRun({ modal, dialect: { g }, trail, quiet, onlyText }: Run): boolean {
  return (
    modal.motion <= COUNTER_CLOCKWISE &&
    modal.units !== undefined &&
    modal.compensation === 'off' &&
    modal.programmed === undefined &&
    !modal.inverseTime &&
    !modal.ended &&
    trail.length === 0 &&
    !quiet &&
    !onlyText &&
    g[RAPID] === Reading.known &&
    g[LINE] === Reading.known &&
    g[CLOCKWISE] === Reading.known &&
    g[COUNTER_CLOCKWISE] === Reading.known
  )
}

/**
 * Runs lines that hold nothing but N, one of G0 to G3, F and the words of a move, in any order, and a comment behind
 * them, from the line that has been reached for as long as they last, and no farther than `mostLines` of the chunk. They
 * are nearly all lines of a long program, and nothing about them needs the words gathered first: this is the speed of
 * reading, and it leaves behind exactly what scanning, gathering and executing them would. A line with anything else on
 * it, or with anything wrong about it, is left to that.
 */
export function plainLines(run: Run, reached: Reached, mostLines: number): void {
  if (!mayRun(run)) return
  let { line, at: lineStart } = reached
  const { modal, out, dialect, bytes } = run
  const { store } = out
  const { length } = bytes
  const { position, moved, plane, arcAbsolute, absolute } = modal
  // By index, and not taken apart: the engine would keep each number that changes in the loop as an object.
  const offsetX = modal.offset[0]
  const offsetY = modal.offset[1]
  const offsetZ = modal.offset[2]
  const { scale } = modal
  const { lineLength, strict } = dialect
  const radiiDiffer = radiiMayDiffer(run) + 1e-9
  // |r1 - r2| = |r1² - r2²| / (r1 + r2) is surely within the limit if the square of the one is below this times r1².
  const surelyRound = radiiDiffer * radiiDiffer
  let { x: xs, y: ys, z: zs, kind: kinds, flags, line: lines, state: states, arc: arcs } = store
  let room = kinds.length
  const { firstLine, comments } = out
  let feedMissing = Number.isNaN(modal.feed)
  let x = position[0]
  let y = position[1]
  let z = position[2]
  let movedX = moved[0]
  let movedY = moved[1]
  let movedZ = moved[2]
  let { motion } = modal
  let motionChanges = false
  let cut = modal.cutYet
  let state = -1
  const first = store.count
  const goesOn = store.endsAt(position[0], position[1], position[2])
  let n = first
  let lastLine = -1
  let lastStart = 0
  let lastFirst = 0
  let lastEnd = 0
  while (line < mostLines && lineStart < length) {
    let i = lineStart
    let seen = 0
    let firstWord = i
    let wordsEnd = i
    let feedFrom = 0
    let feedTo = 0
    let c = bytes[i]
    for (;;) {
      const bit = BIT[c]
      if (bit !== 0) {
        if ((seen & bit) !== 0) break
        const next = plainNumber(bytes, i + 1, words, c & 31)
        if (next < 0) break
        if (seen === 0) firstWord = i
        if (bit === 1 << F) {
          feedFrom = i
          feedTo = next
        }
        seen |= bit
        wordsEnd = i = next
      } else if (c === SPACE || c === TAB) i++
      else break
      c = bytes[i]
    }
    const commentFrom = i
    const isClosed = c === OPEN
    let commentTo = 0
    if (isClosed) {
      commentTo = i = closingBracket(bytes, i)
      while (bytes[i] === SPACE || bytes[i] === TAB) i++
    } else if (c === SEMICOLON && !strict) {
      i = lineEndAfter(bytes, i)
      commentTo = i
      while (bytes[commentTo - 1] === SPACE || bytes[commentTo - 1] === TAB) commentTo--
    }
    c = bytes[i]
    if ((c !== NEWLINE && c !== RETURN) || i - lineStart > lineLength) break
    const nextLine = i + (c === RETURN && bytes[i + 1] === NEWLINE ? 2 : 1)
    if (seen === 0) {
      if (commentTo > 0)
        comments.push({ line, lineStart, start: commentFrom, end: commentTo, closed: isClosed, alone: true })
      line++
      lineStart = nextLine
      continue
    }
    let code = motion
    if ((seen & (1 << G)) !== 0) {
      const number = words[G]
      if (number === 1) code = LINE
      else if (number === 0) code = RAPID
      else if (number === 2) code = CLOCKWISE
      else if (number === 3) code = COUNTER_CLOCKWISE
      else break
    }
    const feeds = (seen & (1 << F)) !== 0
    if (feeds && words[F] < 0) break
    const moves = (seen & AXES) !== 0 || (code >= CLOCKWISE && (seen & (1 << G)) !== 0)
    const noFeed = feeds ? words[F] === 0 : feedMissing
    if (moves && code !== RAPID && noFeed) break
    let nextX = x
    let nextY = y
    let nextZ = z
    if ((seen & (1 << X)) !== 0) nextX = words[X] * scale + (absolute ? offsetX : x)
    if ((seen & (1 << Y)) !== 0) nextY = words[Y] * scale + (absolute ? offsetY : y)
    if ((seen & (1 << Z)) !== 0) nextZ = words[Z] * scale + (absolute ? offsetZ : z)
    let arc = -1
    if (code >= CLOCKWISE && moves) {
      let startU = x
      let startV = y
      let endU = nextX
      let endV = nextY
      let letterU = I
      let letterV = J
      let offsetU = offsetX
      let offsetV = offsetY
      let inPlane = (1 << X) | (1 << Y)
      if (plane === 'ZX') {
        startU = z
        startV = x
        endU = nextZ
        endV = nextX
        letterU = K
        letterV = I
        offsetU = offsetZ
        offsetV = offsetX
        inPlane = (1 << Z) | (1 << X)
      } else if (plane === 'YZ') {
        startU = y
        startV = z
        endU = nextY
        endV = nextZ
        letterU = J
        letterV = K
        offsetU = offsetY
        offsetV = offsetZ
        inPlane = (1 << Y) | (1 << Z)
      }
      let centreU = startU
      let centreV = startV
      if ((seen & (1 << R)) !== 0) {
        if ((seen & CENTRE) !== 0 || (startU === endU && startV === endV)) break
        const radius = words[R] * scale
        const slack = radiiDiffer - 1e-9
        const centre = centreOfRadius([startU, startV], [endU, endV], radius, code === COUNTER_CLOCKWISE, slack)
        if (centre === undefined) break
        centreU = centre[0]
        centreV = centre[1]
      } else {
        const offsets = (1 << letterU) | (1 << letterV)
        if ((seen & CENTRE & ~offsets) !== 0 || (seen & offsets) === 0 || (strict && (seen & inPlane) === 0)) break
        if (arcAbsolute) {
          if ((seen & (1 << letterU)) !== 0) centreU = words[letterU] * scale + offsetU
          if ((seen & (1 << letterV)) !== 0) centreV = words[letterV] * scale + offsetV
        } else {
          centreU += (seen & (1 << letterU)) !== 0 ? words[letterU] * scale : 0
          centreV += (seen & (1 << letterV)) !== 0 ? words[letterV] * scale : 0
        }
        const startSquare = (startU - centreU) * (startU - centreU) + (startV - centreV) * (startV - centreV)
        const endSquare = (endU - centreU) * (endU - centreU) + (endV - centreV) * (endV - centreV)
        const difference = startSquare - endSquare
        if (startSquare === 0) break
        if (!(difference * difference < surelyRound * startSquare)) {
          const differ = Math.abs(
            distance(startU - centreU, startV - centreV) - distance(endU - centreU, endV - centreV),
          )
          if (!(differ <= radiiDiffer)) break
        }
      }
      arc = store.addArc(plane, code === COUNTER_CLOCKWISE, centreU, centreV, startU, startV, n > first || goesOn)
    } else if ((seen & ROUND) !== 0) break
    // From here on nothing stands in the way.
    if (commentTo > 0)
      comments.push({ line, lineStart, start: commentFrom, end: commentTo, closed: isClosed, alone: seen === 1 << N })
    if (feeds) {
      feedMissing = noFeed
      if (bytes[feedTo - 1] <= SPACE) feedTo--
      modal.feed = noFeed ? Number.NaN : words[F] * scale
      modal.feedWord = { chunk: run.chunk, line, start: feedFrom - lineStart, end: feedTo - lineStart }
      if (!noFeed) modal.feedMissing = false
      run.changed()
      state = -1
    }
    if (code !== motion) {
      motion = code
      motionChanges = true
    }
    if (moves) {
      if (state < 0) state = run.state() + out.firstState
      if (code !== RAPID) cut = true
      // An axis that was nowhere and still is counts as moved: comparing NaN says so.
      if (nextX !== x) movedX = true
      if (nextY !== y) movedY = true
      if (nextZ !== z) movedZ = true
      x = nextX
      y = nextY
      z = nextZ
      if (n === room) {
        store.count = n
        store.reserve(n + 1)
        ;({ x: xs, y: ys, z: zs, kind: kinds, flags, line: lines, state: states, arc: arcs } = store)
        room = kinds.length
      }
      // The kinds of motion are numbered as their codes are.
      kinds[n] = code / 10
      flags[n] = 0
      xs[n] = x
      ys[n] = y
      zs[n] = z
      lines[n] = line + firstLine
      states[n] = state
      arcs[n] = arc
      n++
    }
    lastLine = line
    lastStart = lineStart
    lastFirst = firstWord
    lastEnd = wordsEnd
    line++
    lineStart = nextLine
  }
  reached.at = lineStart
  reached.line = line
  if (lastLine < 0) return
  store.count = n
  modal.motion = motion
  if (motionChanges) modal.cycle.fill(Number.NaN)
  modal.cutYet = cut
  position[0] = x
  position[1] = y
  position[2] = z
  moved[0] = movedX
  moved[1] = movedY
  moved[2] = movedZ
  const { last } = out
  last.line = lastLine
  last.lineStart = lastStart
  last.start = lastFirst
  last.end = bytes[lastEnd - 1] <= SPACE ? lastEnd - 1 : lastEnd
}

/** How far reading has come: a byte of the chunk and the line that begins there. */
export interface Reached {
  at: number
  line: number
}
