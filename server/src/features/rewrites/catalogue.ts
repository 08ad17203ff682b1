/** What a person is asked before a rewrite, and what an answer must look like. */
export interface Question {
  readonly prompt: string
  /** What stands in the box; also what is done where nobody can be asked, if `unasked`. */
  readonly value: string
  readonly unasked?: boolean
  /** Which answers there are, where they are not numbers. */
  readonly numbers?: { readonly count: readonly number[] }
}

/** One way of writing lines anew. */
export interface Kind {
  readonly id: string
  /** As an editor lists it; `…` where it asks. */
  readonly title: string
  readonly question?: Question
}

const one = { count: [1] }

/** Every rewrite, in the order in which editors list them. Lengths are asked in mm, whatever the program's unit. */
export const REWRITES = [
  {
    id: 'shift',
    title: 'Shift',
    question: { prompt: 'Shift by X, Y, Z in mm', value: '0, 0, 0', numbers: { count: [2, 3] } },
  },
  {
    id: 'mirrorX',
    title: 'Mirror left to right',
    question: {
      prompt: 'About which X, in mm (empty: its middle)',
      value: '',
      unasked: true,
      numbers: { count: [0, 1] },
    },
  },
  {
    id: 'mirrorY',
    title: 'Mirror near to far',
    question: {
      prompt: 'About which Y, in mm (empty: its middle)',
      value: '',
      unasked: true,
      numbers: { count: [0, 1] },
    },
  },
  {
    id: 'turnLeft',
    title: 'Turn a quarter to the left',
    question: {
      prompt: 'About which X, Y, in mm (empty: its middle)',
      value: '',
      unasked: true,
      numbers: { count: [0, 2] },
    },
  },
  {
    id: 'turnRight',
    title: 'Turn a quarter to the right',
    question: {
      prompt: 'About which X, Y, in mm (empty: its middle)',
      value: '',
      unasked: true,
      numbers: { count: [0, 2] },
    },
  },
  {
    id: 'scale',
    title: 'Scale in X and Y',
    question: { prompt: 'Times how much, about X0 Y0', value: '1', numbers: one },
  },
  {
    id: 'scaleAll',
    title: 'Scale in X, Y and Z',
    question: { prompt: 'Times how much, about X0 Y0 Z0', value: '1', numbers: one },
  },
  { id: 'feedBy', title: 'Feed by a factor', question: { prompt: 'Times how much', value: '0.8', numbers: one } },
  {
    id: 'feedForChip',
    title: 'Feed to a chip load',
    question: { prompt: 'Chip load in mm a tooth', value: '0.05', numbers: one },
  },
  {
    id: 'deeper',
    title: 'Repeat the last level deeper',
    question: { prompt: 'Deeper by how many mm', value: '0.8', numbers: one },
  },
  {
    id: 'stepped',
    title: 'Cut the levels in another step',
    question: {
      prompt: 'Step in mm; and the height at which the wood begins, if that is not Z0',
      value: '1.5',
      numbers: { count: [1, 2] },
    },
  },
  { id: 'withoutAir', title: 'Leave out what cuts only air' },
  {
    id: 'arcsFromLines',
    title: 'Fit arcs to runs of short lines',
    question: { prompt: 'No farther off than how many mm', value: '0.01', unasked: true, numbers: one },
  },
  {
    id: 'linesFromArcs',
    title: 'Write arcs as short lines',
    question: { prompt: 'No farther off than how many mm', value: '0.01', unasked: true, numbers: one },
  },
  { id: 'arcsByCentre', title: 'Give arcs their centre (I, J)' },
  { id: 'arcsByRadius', title: 'Give arcs their radius (R)' },
  { id: 'toInch', title: 'Write in inches (G20)' },
  { id: 'toMm', title: 'Write in millimetres (G21)' },
  { id: 'toIncremental', title: 'Write as distances (G91)' },
  { id: 'toAbsolute', title: 'Write as positions (G90)' },
  {
    id: 'renumber',
    title: 'Number the lines anew',
    question: { prompt: 'In steps of', value: '10', unasked: true, numbers: one },
  },
  { id: 'unnumber', title: 'Take the line numbers away' },
] as const satisfies readonly Kind[]

export type RewriteId = (typeof REWRITES)[number]['id']

export const rewriteOf = (id: string): (Kind & { readonly id: RewriteId }) | undefined =>
  REWRITES.find(each => each.id === id)

/** The numbers of an answer; or what is wrong with it, in plain words. */
export function numbersIn(kind: Kind, answer: string): readonly number[] | string {
  const counts = kind.question?.numbers?.count ?? [0]
  const parts = answer.trim() === '' ? [] : answer.trim().split(/\s*[,;]\s*|\s+/)
  const numbers = parts.map(part => (/^[+-]?(\d+(\.\d*)?|\.\d+)$/.test(part) ? Number(part) : Number.NaN))
  if (numbers.some(Number.isNaN)) return 'Write plain numbers, with a point for decimals and commas between them.'
  if (counts.includes(numbers.length)) return numbers
  return `Write ${counts.map(count => (count === 0 ? 'nothing' : count === 1 ? 'one number' : `${count} numbers`)).join(' or ')}.`
}
