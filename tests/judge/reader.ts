/**
 * The judge's own reader of programs: plain, slow, and without a line in common with the product's. It reads what
 * people write by hand for these jobs (G0 to G3 in three planes, units, absolute and incremental, F S T and the M
 * words) and refuses the rest by throwing, so that a judgement is never a guess.
 *
 * Source of the language's facts: NISTIR 6556, section 3.
 */

/** One straight piece of the path, mm, program coordinates. Arcs come as many pieces. */
export interface Step {
  readonly line: number
  readonly rapid: boolean
  /** Undefined on axes that nobody has said yet. */
  readonly from: readonly (number | undefined)[]
  readonly to: readonly (number | undefined)[]
  readonly feed: number | undefined
  readonly speed: number | undefined
  readonly spinning: boolean
  readonly tool: number | undefined
  /** Bits of the path that belong to one programmed motion share its number. */
  readonly motion: number
}

/** What the judge does not know: it says nothing then. */
export class CannotJudge extends Error {}

/** The text breaks the language (NISTIR 6556), on this line (0-based). */
export class BreaksLanguage extends CannotJudge {
  constructor(
    readonly line: number,
    why: string,
  ) {
    super(`line ${line + 1}: ${why}`)
  }
}

/** Longest distance between an arc and the chords that stand for it, mm, where nobody asks for another. */
const CHORD_ERROR = 0.002

interface Words {
  readonly g: readonly number[]
  readonly m: readonly number[]
  readonly value: ReadonlyMap<string, number>
}

function wordsOf(line: string, number: number): Words {
  const bare = line
    .replace(/\([^)]*\)/g, ' ')
    .replace(/;.*$/, '')
    .replace(/\s+/g, '')
    .toUpperCase()
  const g: number[] = []
  const m: number[] = []
  const value = new Map<string, number>()
  let rest = bare.replace(/^\//, '').replace(/^N\d+/, '')
  if (rest === '%') rest = ''
  while (rest !== '') {
    const match = /^([A-Z])([-+]?(?:\d+\.?\d*|\.\d+))/.exec(rest)
    if (!match) throw new BreaksLanguage(number, `cannot read "${rest}"`)
    const [, letter, digits] = match
    // Named blocks and calls are none of the jobs that are judged: in the midst of a line it is a nought mistyped.
    if (letter === 'O') throw new BreaksLanguage(number, `an O in "${bare}"`)
    if (letter === 'G') g.push(Number(digits))
    else if (letter === 'M') m.push(Number(digits))
    else if (value.has(letter)) throw new BreaksLanguage(number, `two ${letter} words`)
    else value.set(letter, Number(digits))
    rest = rest.slice(match[0].length)
  }
  return { g, m, value }
}

const axes = ['X', 'Y', 'Z'] as const
const offsets = ['I', 'J', 'K'] as const
/** First and second axis of the plane of G17, G18, G19, and the one across. */
const planes: Record<number, readonly [number, number, number]> = { 17: [0, 1, 2], 18: [2, 0, 1], 19: [1, 2, 0] }

/** The path of a program. `tool` is the bit in the spindle when it begins. */
export function pathOf(text: string, tool?: number, chordError = CHORD_ERROR): Step[] {
  const steps: Step[] = []
  const at: (number | undefined)[] = [undefined, undefined, undefined]
  let unit = 1
  let absolute = true
  let plane = 17
  let mode: number | undefined
  let feed: number | undefined
  let speed: number | undefined
  let spinning = false
  let inSpindle = tool
  let selected: number | undefined
  let motion = -1
  let shift = [0, 0, 0]
  const changes = /M0*6(?!\d)/i.test(text.replace(/\([^)]*\)/g, '').replace(/;.*$/gm, ''))

  const lines = text.split(/\r?\n/)
  for (let number = 0; number < lines.length; number++) {
    const { g, m, value } = wordsOf(lines[number], number)
    let dwell = false
    let coordinates = false
    for (const code of g) {
      if (code === 20 || code === 21) unit = code === 20 ? 25.4 : 1
      else if (code === 90 || code === 91) absolute = code === 90
      else if (code === 17 || code === 18 || code === 19) plane = code
      else if (code >= 0 && code <= 3) mode = code
      else if (code === 80) mode = undefined
      else if (code === 4) dwell = true
      else if (code === 92) coordinates = true
      else if (![40, 49, 54, 61, 64, 94, 91.1].includes(code)) throw new CannotJudge(`line ${number + 1}: G${code}`)
    }
    if (value.has('F')) feed = value.get('F')! * unit
    if (value.has('S')) speed = value.get('S')!
    if (value.has('T')) {
      selected = value.get('T')!
      if (!changes) inSpindle = selected
    }
    for (const code of m) {
      if (code === 6) inSpindle = selected
      else if (code === 3 || code === 4) spinning = true
      else if (code === 5) spinning = false
      else if (![0, 1, 2, 7, 8, 9, 30].includes(code)) throw new CannotJudge(`line ${number + 1}: M${code}`)
    }
    if (coordinates) {
      shift = axes.map((axis, k) => (value.has(axis) ? (at[k] ?? 0) - value.get(axis)! * unit : shift[k]))
    } else if (!dwell && axes.some(axis => value.has(axis))) {
      if (mode === undefined) throw new BreaksLanguage(number, 'axis words without a motion')
      motion++
      const from = [...at]
      for (let k = 0; k < 3; k++) {
        const word = value.get(axes[k])
        if (word === undefined) continue
        at[k] = absolute ? word * unit + shift[k] : (at[k] ?? Number.NaN) + word * unit
      }
      const common = { line: number, feed, speed, spinning, tool: inSpindle, motion }
      if (mode < 2) steps.push({ ...common, rapid: mode === 0, from, to: [...at] })
      else
        for (const piece of arc(from, at, mode, planes[plane], value, unit, number, chordError))
          steps.push({ ...common, ...piece })
    } else if (!dwell && offsets.some(offset => value.has(offset))) {
      // Section 3.5.3.2: a full circle, too, must name one axis of its plane.
      throw new BreaksLanguage(number, 'an arc that goes nowhere')
    }
    if (m.includes(2) || m.includes(30)) break
  }
  return steps
}

/** The chords of a G2 or G3. */
function arc(
  from: readonly (number | undefined)[],
  to: readonly (number | undefined)[],
  mode: number,
  [a, b, c]: readonly [number, number, number],
  value: ReadonlyMap<string, number>,
  unit: number,
  line: number,
  chordError: number,
): { rapid: boolean; from: number[]; to: number[] }[] {
  if ([...from, ...to].some(v => v === undefined)) throw new BreaksLanguage(line, 'an arc from nowhere')
  const start = from as number[]
  const end = to as number[]
  let ca: number
  let cb: number
  if (value.has('R')) {
    const r = value.get('R')! * unit
    const da = end[a] - start[a]
    const db = end[b] - start[b]
    const half = Math.hypot(da, db) / 2
    if (half === 0 || Math.abs(r) < half - 1e-3) throw new BreaksLanguage(line, 'no such arc')
    const rise = Math.sqrt(Math.max(0, r * r - half * half))
    // The centre lies left of the chord for a short counter-clockwise arc; each of "clockwise" and "R negative" turns it.
    const side = (mode === 3 ? 1 : -1) * (r > 0 ? 1 : -1)
    ca = (start[a] + end[a]) / 2 - (side * rise * db) / (2 * half)
    cb = (start[b] + end[b]) / 2 + (side * rise * da) / (2 * half)
  } else {
    ca = start[a] + (value.get(offsets[a]) ?? 0) * unit
    cb = start[b] + (value.get(offsets[b]) ?? 0) * unit
    const r0 = Math.hypot(start[a] - ca, start[b] - cb)
    const r1 = Math.hypot(end[a] - ca, end[b] - cb)
    if (r0 === 0) throw new BreaksLanguage(line, 'an arc without a centre')
    // Section 3.5.3.2: an error beyond 0.002 mm, or 0.0002 inch where inches are in force.
    if (Math.abs(r0 - r1) > (unit === 1 ? 0.002 : 0.0002 * 25.4) + 1e-9) throw new BreaksLanguage(line, 'radii differ')
  }
  const radius = Math.hypot(start[a] - ca, start[b] - cb)
  const first = Math.atan2(start[b] - cb, start[a] - ca)
  let turn = Math.atan2(end[b] - cb, end[a] - ca) - first
  const same = Math.hypot(end[a] - start[a], end[b] - start[b]) < 1e-9
  if (mode === 3) turn = same ? 2 * Math.PI : turn <= 0 ? turn + 2 * Math.PI : turn
  else turn = same ? -2 * Math.PI : turn >= 0 ? turn - 2 * Math.PI : turn
  const most = 2 * Math.acos(Math.max(0, 1 - chordError / radius))
  const count = Math.max(1, Math.ceil(Math.abs(turn) / most))
  const pieces = []
  let last = [...start]
  for (let i = 1; i <= count; i++) {
    const next = [0, 0, 0]
    const angle = first + (turn * i) / count
    next[a] = i === count ? end[a] : ca + radius * Math.cos(angle)
    next[b] = i === count ? end[b] : cb + radius * Math.sin(angle)
    next[c] = start[c] + ((end[c] - start[c]) * i) / count
    pieces.push({ rapid: false, from: last, to: next })
    last = next
  }
  return pieces
}
