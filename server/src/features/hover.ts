import type { Run } from '../job/outcome.ts'
import { MotionKind } from '../machine/motions.ts'
import type { Program, Word } from '../machine/program.ts'
import { CODES, codeName, LETTERS } from '../machine/words.ts'
import { mm, number, perMinute } from '../rules/common/wording.ts'
import { EMPTY, type Stock } from '../stock/stock.ts'
import type { Position, TextSpan } from '../syntax/source.ts'

export interface Hover {
  readonly span: TextSpan
  readonly markdown: string
}

/**
 * What a word means, where its line takes the bit, and (in a run) how deep that is under the face and how much wood is
 * left there. undefined where no word stands.
 * @param runs the runs of this program, one for each set-up and copy that it serves
 */
export function hoverAt(program: Program, at: Position, runs: readonly Run[]): Hover | undefined {
  const word = program
    .wordsOf(at.line)
    .find(({ span }) => span.start <= at.character && at.character < Math.max(span.end, span.start + 1))
  if (!word) return undefined
  const motion = lastMotionOf(program, at.line)
  const parts = [meaningOf(word)]
  if (motion !== undefined) {
    parts.push(pathOf(program, motion))
    for (const run of distinct(runs)) {
      const wood = woodUnder(run, motion)
      if (wood) parts.push(runs.length > 1 ? `${placeOf(run)}: ${wood}` : wood)
    }
  }
  return { span: word.span, markdown: parts.filter(part => part !== '').join('\n\n') }
}

function meaningOf({ letter, value }: Word): string {
  if (letter === 'N') return `**N**: ${LETTERS.get('N')}`
  const code = letter === 'G' || letter === 'M' ? codeName(letter, Math.round(value * 10)) : letter
  const meaning = CODES.get(code)
  if (meaning) {
    const section = meaning.section ? ` (NISTIR 6556, ${meaning.section})` : ''
    return `**${code}**: ${meaning.title}${section}`
  }
  const title = LETTERS.get(letter)
  if (!title) return ''
  return letter === 'G' || letter === 'M' ? '' : `**${letter}**: ${title}`
}

/** The last motion that a line makes: a cycle or a loop makes several, and where the bit ends up is what counts. */
function lastMotionOf(program: Program, line: number): number | undefined {
  const { motions } = program
  for (let i = motions.count - 1; i >= 0; i--) if (motions.line[i] === line) return i
  return undefined
}

const verbs: Record<MotionKind, string> = {
  [MotionKind.rapid]: 'Rapid',
  [MotionKind.line]: 'Cut',
  [MotionKind.arcClockwise]: 'Arc',
  [MotionKind.arcCounterClockwise]: 'Arc',
  [MotionKind.probe]: 'Probe',
}

function pathOf(program: Program, motion: number): string {
  const { motions, states } = program
  const state = states[motions.state[motion]]
  const to = [motions.x[motion], motions.y[motion], motions.z[motion]].map((value, axis) => value - state.offset[axis])
  const from = motion > 0 ? [motions.x[motion - 1], motions.y[motion - 1], motions.z[motion - 1]] : [...motions.start]
  const start = from.map((value, axis) => value - state.offset[axis])
  const kind = motions.kind[motion] as MotionKind
  const pace =
    kind === MotionKind.rapid ? '' : Number.isNaN(state.feed) ? ', no feed in force' : `, at ${perMinute(state.feed)}`
  return `${verbs[kind]} from ${point(start)} to ${point(to)} mm${pace}`
}

function point(at: readonly number[]): string {
  return at.map((value, axis) => `${'XYZ'[axis]}${Number.isNaN(value) ? '?' : number(value, 3)}`).join(' ')
}

/** Copies of one thickness say the same; each set-up speaks once for each thickness. */
function distinct(runs: readonly Run[]): Run[] {
  const known = new Map(runs.map(run => [`${run.setup.index} ${run.thickness}`, run]))
  return [...known.values()]
}

function placeOf(run: Run): string {
  const name = run.setup.name.replace(/[\\`*_{}[\]<>()#+.!|~&-]/g, '\\$&')
  return run.copy === '' ? name : `${name}, copy ${run.copy.replace(/[^\w ]/g, '\\$&')}`
}

/** Depth under the face at the end of a motion, and the wood left under that spot once the program has run. */
function woodUnder(run: Run, motion: number): string | undefined {
  const { motions } = run.program
  const [x, y, z] = [motions.x[motion], motions.y[motion], motions.z[motion]].map((v, axis) => v + run.shift[axis])
  if (Number.isNaN(z)) return undefined
  const depth = run.faceLevel - z
  const height = depth >= 0 ? `${mm(depth)} under the face` : `${mm(-depth)} over the face`
  const left = solidAt(run.after, x, y)
  if (left === undefined) return `${height}, off the blank`
  return `${height}; ${left < 0.005 ? 'nothing' : mm(left)} left of the wood here after this program`
}

/** Thickness of everything solid in the column at a place of the stock as it lies; undefined off the grid. */
function solidAt(stock: Stock, x: number, y: number): number | undefined {
  const { nx, ny, cell } = stock.grid
  const i = Math.floor(x / cell)
  const j = Math.floor(y / cell)
  if (!(i >= 0 && j >= 0 && i < nx && j < ny)) return undefined
  let solid = 0
  for (const { hi, lo } of stock.layers) {
    const at = j * nx + i
    if (hi[at] > EMPTY) solid += hi[at] - lo[at]
  }
  return solid
}
