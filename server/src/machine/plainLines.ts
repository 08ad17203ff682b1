import { Token, type TokenBuffer } from '../syntax/tokens.ts'
import { Reading } from './dialect.ts'
import { MotionKind } from './motions.ts'
import type { Run } from './run.ts'

const G = 71
const N = 78
const X = 88
const Y = 89
const Z = 90
/** Ten times the numbers of G0 and G1, as the memory keeps them. */
const RAPID = 0
const LINE = 10

/** Whether a line that holds nothing but G0, G1, X, Y and Z does nothing here but move the bit straight to them. */
function mayRun(run: Run): boolean {
  const { modal, dialect } = run
  return (
    (modal.motion === RAPID || modal.motion === LINE) &&
    modal.units !== undefined &&
    modal.absolute &&
    modal.compensation === 'off' &&
    !modal.inverseTime &&
    !modal.ended &&
    run.trail.length === 0 &&
    !run.quiet &&
    !run.onlyText &&
    dialect.g[RAPID] === Reading.known &&
    dialect.g[LINE] === Reading.known
  )
}

/**
 * Runs lines of the form N G X Y Z, each word but one axis word dispensable, from the line whose tokens begin at
 * `from` for as long as they last. They are nearly all lines of a long program, and nothing about them needs the
 * words gathered first: this is the speed of reading, and it leaves behind exactly what gathering and executing
 * them would. Each makes one motion, which is how the caller knows the number of lines that were run.
 *
 * @returns the first token of the first line that is not of the form.
 */
export function plainLines(run: Run, tokens: TokenBuffer, from: number, firstLine: number): number {
  if (!mayRun(run)) return from
  const { modal, out, dialect } = run
  const { kind, value, start, end, count } = tokens
  const { store } = out
  store.reserve(store.count + tokens.lines)
  const { x: xs, y: ys, z: zs, kind: kinds, flags, line: lines, state: states, arc: arcs } = store
  const { scale, offset, position, moved } = modal
  const [offsetX, offsetY, offsetZ] = offset
  const feedMissing = Number.isNaN(modal.feed)
  const first = store.count
  const lineShift = firstLine + out.firstLine - first
  let [x, y, z] = position
  let [movedX, movedY, movedZ] = moved
  let motion = modal.motion
  let cut = modal.cutYet
  let state = -1
  let n = first
  let token = from
  let lineStart = from === 0 ? 0 : end[from - 1]
  let lastFrom = from
  while (token < count) {
    let i = token
    let k = kind[i]
    let code = motion
    let nextX = x
    let nextY = y
    let nextZ = z
    if (k === N) k = kind[++i]
    if (k === G) {
      const number = value[i]
      if (number === 1) code = LINE
      else if (number === 0) code = RAPID
      else break
      k = kind[++i]
    }
    const axesFrom = i
    if (k === X) {
      nextX = value[i] * scale + offsetX
      k = kind[++i]
    }
    if (k === Y) {
      nextY = value[i] * scale + offsetY
      k = kind[++i]
    }
    if (k === Z) {
      nextZ = value[i] * scale + offsetZ
      k = kind[++i]
    }
    if (k !== Token.lineEnd || i === axesFrom) break
    if (code === LINE && feedMissing) break
    if (start[i] - lineStart > dialect.lineLength) break
    if (state < 0) state = run.state() + out.firstState
    if (code !== motion) {
      motion = code
      modal.cycle.fill(Number.NaN)
    }
    if (code === LINE) cut = true
    // An axis that was nowhere and still is counts as moved: comparing NaN says so.
    if (nextX !== x) movedX = true
    if (nextY !== y) movedY = true
    if (nextZ !== z) movedZ = true
    x = nextX
    y = nextY
    z = nextZ
    kinds[n] = code === LINE ? MotionKind.line : MotionKind.rapid
    flags[n] = 0
    xs[n] = x
    ys[n] = y
    zs[n] = z
    lines[n] = n + lineShift
    states[n] = state
    arcs[n] = -1
    n++
    lastFrom = token
    lineStart = end[i]
    token = i + 1
  }
  if (n === first) return from
  store.count = n
  modal.motion = motion
  modal.cutYet = cut
  position[0] = x
  position[1] = y
  position[2] = z
  moved[0] = movedX
  moved[1] = movedY
  moved[2] = movedZ
  const { last } = out
  last.line = firstLine + n - first - 1
  last.lineStart = lastFrom === 0 ? 0 : end[lastFrom - 1]
  last.start = start[lastFrom]
  last.end = end[token - 2]
  return token
}
