import { Token, type TokenBuffer } from '../syntax/tokens.ts'
import { arcAbout, distance } from './arcs.ts'
import { Reading } from './dialect.ts'
import { radiiMayDiffer } from './moves.ts'
import type { Run } from './run.ts'

const G = 71
const I = 73
const J = 74
const N = 78
const X = 88
const Y = 89
const Z = 90
/** Ten times the numbers of G0 to G3, as the memory keeps them. */
const RAPID = 0
const LINE = 10
const CLOCKWISE = 20
const COUNTER_CLOCKWISE = 30
const CODES = [RAPID, LINE, CLOCKWISE, COUNTER_CLOCKWISE]

/** Whether a line that holds nothing but G0 to G3 and lengths does nothing here but move the bit as they say. */
function mayRun(run: Run): boolean {
  const { modal, dialect } = run
  return (
    modal.motion <= COUNTER_CLOCKWISE &&
    modal.units !== undefined &&
    modal.absolute &&
    modal.compensation === 'off' &&
    modal.programmed === undefined &&
    !modal.inverseTime &&
    !modal.ended &&
    run.trail.length === 0 &&
    !run.quiet &&
    !run.onlyText &&
    CODES.every(code => dialect.g[code] === Reading.known)
  )
}

/**
 * Runs lines of the form N G X Y Z, each word but one axis word dispensable, and arcs in XY with I and J behind
 * these, from the line whose tokens begin at `from` for as long as they last. They are nearly all lines of a long
 * program, and nothing about them needs the words gathered first: this is the speed of reading, and it leaves behind
 * exactly what gathering and executing them would. A line with anything wrong about it is left to that.
 * Each makes one motion, which is how the caller knows the number of lines that were run.
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
  const mayArc = modal.plane === 'XY' && !modal.arcAbsolute
  const radiiDiffer = radiiMayDiffer(run) + 1e-9
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
      else if (number === 2) code = CLOCKWISE
      else if (number === 3) code = COUNTER_CLOCKWISE
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
    const inPlane = i > axesFrom
    if (k === Z) {
      nextZ = value[i] * scale + offsetZ
      k = kind[++i]
    }
    if (i === axesFrom || (code !== RAPID && feedMissing)) break
    let arc = -1
    if (code >= CLOCKWISE) {
      if (!mayArc || !inPlane || (k !== I && k !== J)) break
      let centreX = x
      let centreY = y
      if (k === I) {
        centreX += value[i] * scale
        k = kind[++i]
      }
      if (k === J) {
        centreY += value[i] * scale
        k = kind[++i]
      }
      if (k !== Token.lineEnd || start[i] - lineStart > dialect.lineLength) break
      const startRadius = distance(x - centreX, y - centreY)
      const differ = Math.abs(startRadius - distance(nextX - centreX, nextY - centreY))
      if (startRadius === 0 || !(differ <= radiiDiffer)) break
      arc =
        out.firstArc +
        run.addArc(arcAbout('XY', [x, y], [nextX, nextY], [centreX, centreY], code === COUNTER_CLOCKWISE))
    } else if (k !== Token.lineEnd || start[i] - lineStart > dialect.lineLength) break
    if (state < 0) state = run.state() + out.firstState
    if (code !== motion) {
      motion = code
      modal.cycle.fill(Number.NaN)
    }
    if (code !== RAPID) cut = true
    // An axis that was nowhere and still is counts as moved: comparing NaN says so.
    if (nextX !== x) movedX = true
    if (nextY !== y) movedY = true
    if (nextZ !== z) movedZ = true
    x = nextX
    y = nextY
    z = nextZ
    // The kinds of motion are numbered as their codes are.
    kinds[n] = code / 10
    flags[n] = 0
    xs[n] = x
    ys[n] = y
    zs[n] = z
    lines[n] = n + lineShift
    states[n] = state
    arcs[n] = arc
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
