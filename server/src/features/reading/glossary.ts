import { CODES, LETTERS } from '../../machine/words.ts'

/** What a word of the language means, in the trade's words. */
export interface Meaning {
  /** `G1`, `X`, `SIN`. */
  readonly name: string
  readonly title: string
  /** Section of NISTIR 6556; undefined for what that report does not have. */
  readonly section?: string
  /** What to write where a dialect refuses it. */
  readonly instead?: string
}

/** What a code or a letter means where nothing is known of its line. */
export function meaningOf(name: string): Meaning | undefined {
  const code = CODES.get(name)
  if (code) return { name, title: code.title, section: code.section, instead: code.instead }
  const title = LETTERS.get(name)
  return title === undefined ? undefined : { name, title, section: SECTIONS_OF_LETTERS[name] ?? '3.3.2, Table 3' }
}

/** Sections that say more of a letter than the table. Those of F, S and T are from memory. */
const SECTIONS_OF_LETTERS: Readonly<Record<string, string>> = {
  D: '3.5.10',
  F: '3.7.1',
  H: '3.5.11',
  I: '3.5.3.2',
  J: '3.5.3.2',
  K: '3.5.3.2',
  N: '3.3',
  P: '3.5.4',
  Q: '3.5.16',
  R: '3.5.3.1',
  S: '3.7.2',
  T: '3.7.3',
  X: '3.5.17',
  Y: '3.5.17',
  Z: '3.5.17',
}

/** Which way an axis word points. */
const AXES: Readonly<Record<string, { readonly place: string; readonly way: string }>> = {
  X: { place: 'position to the right', way: 'distance to the right' },
  Y: { place: 'position away from you', way: 'distance away from you' },
  Z: { place: 'height', way: 'distance upwards' },
}

const CYCLE = /^G8[1-9]$/

/**
 * What a letter means among the codes of its line and those in force there: X is a place, or with G91 a way from the
 * last one; R is a radius, or the clear height of a drilling cycle.
 * @param codes names of the codes, `G91`
 */
export function meaningOfLetter(letter: string, codes: ReadonlySet<string>): Meaning | undefined {
  const cycle = [...codes].some(code => CYCLE.test(code))
  const say = (title: string, section?: string): Meaning => ({ name: letter, title, section })
  const axis = AXES[letter]
  if (axis) {
    if (codes.has('G92')) return say(`${axis.place} that the place where the bit stands is called by`, '3.5.18')
    if (codes.has('G53')) return say(`${axis.place} by the machine's own zero`, '3.5.12')
    if (codes.has('G10')) return say(`${axis.place} of the zero that is stored`, '3.5.5')
    if (codes.has('G28') || codes.has('G30')) return say(`${axis.place} that is gone through on the way`, '3.5.8')
    if (cycle && letter === 'Z') return say('depth of the hole', '3.5.16')
    if (codes.has('G91')) return say(`${axis.way} from where the bit is, since G91 is in force`, '3.5.17')
    return say(axis.place, '3.5.17')
  }
  switch (letter) {
    case 'I':
    case 'J':
    case 'K': {
      const along = { I: 'X', J: 'Y', K: 'Z' }[letter]
      const from = codes.has('G90.1')
        ? `${along} of the arc's centre`
        : `from the start of the arc to its centre, in ${along}`
      return say(from, codes.has('G90.1') ? undefined : '3.5.3.2')
    }
    case 'R':
      if (cycle) return say('clear height: the cycle comes down to it fast, and feeds from there', '3.5.16')
      return say('radius of the arc; written negative, the longer way round', '3.5.3.1')
    case 'P':
      if (codes.has('G4')) return say('seconds to dwell', '3.5.4')
      if (codes.has('G10')) return say('number of the work offset: 1 is G54', '3.5.5')
      if (codes.has('M98')) return say('number of the subprogram')
      if (cycle) return say('seconds to dwell at the bottom', '3.5.16')
      break
    case 'L':
      if (codes.has('G10')) return say('what is set: 2 is the zero of a work offset', '3.5.5')
      if (codes.has('M98')) return say('how many times the subprogram is run')
      return say('how many times the cycle is repeated', '3.5.16')
    case 'F':
      if (codes.has('G93')) return say('feed as one over the minutes that this move takes', '3.5.19')
      return say('feed: how far the bit goes in a minute', '3.7.1')
  }
  return meaningOf(letter)
}

/** NISTIR 6556, 3.3.2.4; angles in degrees. */
const FUNCTIONS: Readonly<Record<string, string>> = {
  abs: 'the value without its sign',
  acos: 'the angle whose cosine it is, degrees',
  asin: 'the angle whose sine it is, degrees',
  atan: 'the angle of a way across and a way along, degrees: ATAN[across]/[along]',
  cos: 'cosine of an angle in degrees',
  exp: 'e to the power of it',
  fix: 'the whole number below it',
  fup: 'the whole number above it',
  ln: 'natural logarithm',
  round: 'the nearest whole number',
  sin: 'sine of an angle in degrees',
  sqrt: 'square root',
  tan: 'tangent of an angle in degrees',
}

export function meaningOfFunction(name: string): Meaning | undefined {
  const known = name.toLowerCase()
  const upper = name.toUpperCase()
  // EXISTS is of the kept extensions.
  if (known === 'exists') return { name: upper, title: '1 where the named parameter has been set, else 0' }
  const title = FUNCTIONS[known]
  return title === undefined ? undefined : { name: upper, title, section: '3.3.2.4' }
}

export const FUNCTION_NAMES: readonly string[] = [...Object.keys(FUNCTIONS), 'exists']

/** O words, of the kept extensions: the standard has none. */
const FLOW: Readonly<Record<string, string>> = {
  sub: 'a subprogram begins here; it is passed over until it is called',
  endsub: 'the subprogram ends here',
  call: 'runs the subprogram of that name; values in [ ] become its #1, #2 and so on',
  return: 'leaves the subprogram',
  if: 'the lines that follow are run if the condition holds (is not 0)',
  elseif: 'else, if this condition holds',
  else: 'else',
  endif: 'end of the condition',
  while: 'repeats as long as the condition holds; after DO it closes the loop',
  endwhile: 'end of the loop',
  do: 'a loop that is run at least once, up to its WHILE',
  repeat: 'repeats the lines that follow that many times',
  endrepeat: 'end of the repeats',
  break: 'leaves the loop',
  continue: 'goes on with the next round of the loop',
  m98: 'runs the subprogram of that number',
  '': 'a subprogram begins here and ends with M99',
}

export function meaningOfFlow(says: string): Meaning | undefined {
  const title = FLOW[says.toLowerCase()]
  return title === undefined ? undefined : { name: says === 'm98' ? 'P' : `O ${says.toUpperCase()}`.trim(), title }
}

export const FLOW_NAMES: readonly string[] = Object.keys(FLOW).filter(name => name !== '' && name !== 'm98')

const OPERATORS: Readonly<Record<string, string>> = {
  '**': 'to the power of',
  '*': 'times',
  '/': 'divided by',
  '+': 'plus',
  '-': 'minus',
  '=': 'is set to',
  mod: 'what is left of the division',
  and: 'both hold',
  or: 'one of them holds',
  xor: 'just one of them holds',
  eq: 'is the same as',
  ne: 'is not the same as',
  gt: 'is more than',
  ge: 'is more than or the same as',
  lt: 'is less than',
  le: 'is less than or the same as',
}

export function meaningOfOperator(written: string): Meaning | undefined {
  const known = written.toLowerCase()
  const title = OPERATORS[known]
  if (title === undefined) return undefined
  const section = known === '=' ? '3.3.3' : /^(eq|ne|gt|ge|lt|le)$/.test(known) ? undefined : '3.3.2.3'
  return { name: written.toUpperCase(), title, section }
}

/** A parameter, by what it goes by: `5`, `<depth>`, `<_depth>`. */
export function meaningOfParameter(name: string): Meaning {
  const written = `#${name}`
  if (name.startsWith('<')) {
    const title = name.startsWith('<_') ? 'a named parameter, the same everywhere' : 'a named parameter'
    return { name: written, title }
  }
  const number = Number(name)
  if (number >= 1 && number <= 30)
    return { name: written, title: 'a parameter; in a subprogram one of its own', section: '3.3.2.2' }
  return {
    name: written,
    title: number >= 5161 && number <= 5399 ? 'a parameter that the machine keeps' : 'a parameter',
    section: '3.3.2.2',
  }
}

/** Marks of a line that are no words. */
export const MARKS: Readonly<Record<string, Meaning>> = {
  '%': { name: '%', title: 'beginning or end of the program', section: '3.1' },
  '/': { name: '/', title: 'the line is left out where the machine’s switch for it is on', section: '3.3' },
  $: { name: '$', title: 'a setting of the machine: no part of the program' },
  '*': { name: '*', title: 'checksum of the line, for a sender' },
  '[': { name: '[ ]', title: 'a value that is worked out', section: '3.3.2.3' },
  '(': { name: '( )', title: 'comment', section: '3.3.4' },
  ';': { name: ';', title: 'comment to the end of the line' },
}

/** "**G1**: straight cut at the feed (NISTIR 6556, 3.5.2)" */
export function meaningText({ name, title, section }: Meaning): string {
  const shown = name.replace(/[\\`*_[\]<>#|]/g, '\\$&')
  return `**${shown}**: ${title}${section ? ` (NISTIR 6556, ${section})` : ''}`
}
