import type { Chance } from '../random.ts'

/** How one person writes what another writes otherwise: the same path in other words. */
export interface Hand {
  readonly arcs: 'centre' | 'radius'
  readonly distances: 'absolute' | 'incremental'
  /** The motion word on every line, or only where it changes. */
  readonly motions: 'once' | 'always'
  readonly words: 'spaced' | 'close' | 'small' | 'zeros'
  readonly comments: 'brackets' | 'semicolon'
  readonly numbered: boolean
  readonly percent: boolean
  readonly returns: boolean
  /** Lines that the machine may leave out: an optional stop before each operation. */
  readonly optional: boolean
  /** What people begin and end with: offsets, blending, home, dust extraction, a stop to look. */
  readonly dressed: boolean
  /** The work of a program in a subprogram of it, or its heights in parameters. */
  readonly parts: 'none' | 'subprogram' | 'parameters'
}

export const PLAIN: Hand = {
  arcs: 'centre',
  distances: 'absolute',
  motions: 'once',
  words: 'spaced',
  comments: 'brackets',
  numbered: false,
  percent: false,
  returns: false,
  optional: false,
  dressed: false,
  parts: 'none',
}

/** A hand that leaves lines recognisable to whoever plants a fault in them by their look. */
export function steadyHand(chance: Chance): Hand {
  return { ...PLAIN, arcs: chance.next() < 0.25 ? 'radius' : 'centre', optional: chance.next() < 0.2 }
}

export function anyHand(chance: Chance, compact: boolean): Hand {
  return {
    arcs: chance.pick(['centre', 'radius']),
    distances: chance.next() < 0.35 ? 'incremental' : 'absolute',
    motions: chance.pick(['once', 'always']),
    words: chance.pick(['spaced', 'close', 'small', 'zeros']),
    comments: chance.pick(['brackets', 'semicolon']),
    numbered: chance.next() < 0.3,
    percent: chance.next() < 0.3,
    returns: chance.next() < 0.3,
    optional: !compact && chance.next() < 0.3,
    dressed: chance.next() < 0.5,
    parts: compact ? 'none' : chance.pick(['none', 'none', 'subprogram', 'parameters']),
  }
}

type Words = Map<string, number>

const isComment = (line: string): boolean => line.startsWith('(')
const wordsOf = (line: string): Words =>
  new Map([...line.matchAll(/([A-Z])(-?[\d.]+)/g)].map(([, letter, digits]) => [letter, Number(digits)]))
const AXES = ['X', 'Y', 'Z']

/** Writes a program of the shop's own writer (absolute, centres, one motion word a change) in another hand. */
export function written(text: string, hand: Hand): string {
  const inch = /\bG20\b/.test(text)
  const places = inch ? 4 : 3
  const at = new Map<string, number>()
  let motion = ''
  let incremental = false
  const lines = text
    .trimEnd()
    .split('\n')
    .flatMap((line): string[] => {
      if (line === '' || isComment(line)) {
        const stop = hand.optional && isComment(line) && at.size === 3 ? ['/ M1'] : []
        return [...stop, line]
      }
      // A cycle leaves the bit where it stood.
      if (/G8\d/.test(line)) return incremental ? ['G90', line, 'G91'] : [line]
      const [, named = ''] = /^(G[0-3])\b/.exec(line) ?? []
      const words = wordsOf(line)
      const moves = AXES.some(axis => words.has(axis)) || words.has('I') || words.has('J')
      if (!moves) {
        const back = line === 'M5' && incremental ? ['G90'] : []
        if (line === 'M5') incremental = false
        return [...back, line]
      }
      const changed = named !== ''
      if (changed) motion = named
      const from = new Map(at)
      for (const axis of AXES) if (words.has(axis)) at.set(axis, words.get(axis)!)
      const before: string[] = []
      if (hand.distances === 'incremental' && from.size === 3 && !incremental) {
        incremental = true
        before.push('G91')
      }
      if (hand.arcs === 'radius' && (motion === 'G2' || motion === 'G3')) withRadius(words, from, at, motion, places)
      const said = [...words].map(([letter, value]) => {
        const way = incremental && AXES.includes(letter) ? value - (from.get(letter) ?? 0) : value
        return letter + Number(way.toFixed(letter === 'F' ? 1 : places))
      })
      const moving = changed || hand.motions === 'always' ? [motion] : []
      const g = said.filter(word => word.startsWith('G'))
      return [...before, [...moving, ...said.filter(word => !g.includes(word))].join(' ')]
    })
  return finished(inParts(hand.dressed ? dressed(lines, inch) : lines, hand), hand)
}

/** The beginning and the end that many copy from program to program, and a stop in the middle. */
function dressed(lines: readonly string[], inch: boolean): string[] {
  const head = lines.findIndex(line => /^G2[01] G90/.test(line))
  const off = lines.indexOf('M5')
  return [
    ...lines.slice(0, head + 1),
    'G54 G40 G49 G80',
    ...(head % 2 === 0 ? ['G28 G91 Z0', 'G90'] : []),
    'M8',
    ...lines.slice(head + 1, off - 1),
    'M0',
    ...lines.slice(off - 1, off),
    'M9',
    'M5',
    ...lines.slice(off + 1, -1),
    inch ? 'G28 G91 Z0' : 'G53 G0 Z0',
    ...(inch ? ['G90'] : []),
    lines[lines.length - 1],
  ]
}

/** R for I and J where the arc is well short of half a turn: near that the least rounding of R moves the centre far. */
function withRadius(words: Words, from: Words, to: Words, motion: string, places: number): void {
  const [x0, y0, x1, y1] = [from.get('X')!, from.get('Y')!, to.get('X')!, to.get('Y')!]
  const [cx, cy] = [x0 + (words.get('I') ?? 0), y0 + (words.get('J') ?? 0)]
  const turn = Math.atan2(y1 - cy, x1 - cx) - Math.atan2(y0 - cy, x0 - cx)
  const sweep =
    (motion === 'G3' ? turn : -turn) - 2 * Math.PI * Math.floor((motion === 'G3' ? turn : -turn) / (2 * Math.PI))
  const radius = Math.hypot(x0 - cx, y0 - cy)
  if (Math.hypot(x1 - x0, y1 - y0) < 0.1 || sweep > 2.4) return
  const feed = words.get('F')
  for (const letter of ['I', 'J', 'F']) words.delete(letter)
  words.set('R', Number(radius.toFixed(places)))
  if (feed !== undefined) words.set('F', feed)
}

/** From the first operation to the last as a subprogram, or the heights of the rapids as parameters. */
function inParts(lines: readonly string[], { parts }: Hand): string[] {
  const first = lines.findIndex((line, at) => at > 4 && isComment(line))
  const last = lines.indexOf('(up and off)')
  if (parts === 'none' || first < 0 || last < first) return [...lines]
  if (parts === 'subprogram') {
    const body = lines.slice(first, last)
    return ['o100 sub', ...body, 'o100 endsub', '', ...lines.slice(0, first), 'o100 call', ...lines.slice(last)]
  }
  const heights = new Map<string, string>()
  const rest = lines.map(line =>
    line.replace(/^G0 Z([\d.]+)$/, (_, z: string) => {
      if (!heights.has(z)) heights.set(z, `#<high${heights.size + 1}>`)
      return `G0 Z${heights.get(z)}`
    }),
  )
  return [rest[0], ...[...heights].map(([z, name]) => `${name} = ${z}`), ...rest.slice(1)]
}

function finished(lines: readonly string[], hand: Hand): string {
  let number = 0
  const done = lines.map(line => {
    if (line === '') return line
    if (isComment(line)) return hand.comments === 'semicolon' ? `; ${line.slice(1, -1)}` : line
    let text = line
    if (!/[o#]/.test(line)) {
      if (hand.words === 'close') text = text.replaceAll(' ', '')
      if (hand.words === 'small') text = text.toLowerCase()
      if (hand.words === 'zeros') text = text.replace(/\b([GM])(\d)\b/g, '$10$2').replace(/([XYZIJ])(-?)\./g, '$1$20.')
    }
    if (!hand.numbered || /^[o/]/.test(text)) return text
    number += 10
    return `N${number} ${text}`
  })
  const framed = hand.percent ? ['%', ...done, '%'] : done
  return `${framed.join(hand.returns ? '\r\n' : '\n')}${hand.returns ? '\r\n' : '\n'}`
}
