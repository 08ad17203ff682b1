import { CODES } from './words.ts'

/** Which language a machine reads, as the job sheet may choose it (contract, section 4). */
export interface DialectChoice {
  readonly base: 'rs274ngc' | 'rs274ngc-strict' | 'compact'
  /** Codes the machine knows beyond its dialect, e.g. `G81`. */
  readonly add: readonly string[]
  /** Codes of the dialect that the machine does not know. */
  readonly remove: readonly string[]
  /** Most characters on a line; the dialect's own limit where absent. */
  readonly lineLength?: number
}

export const DEFAULT_DIALECT: DialectChoice = { base: 'rs274ngc', add: [], remove: [] }

/** What a dialect makes of one code. */
export const Reading = {
  unknown: 0,
  known: 1,
  /** Known elsewhere, but not to this dialect. */
  refused: 2,
  /** Added by the sheet and defined nowhere: accepted, not modelled. */
  added: 3,
} as const

/** A dialect made ready: what the reader asks for on every line. */
export interface Dialect {
  readonly choice: DialectChoice
  /** As messages name it. */
  readonly name: string
  readonly lineLength: number
  /** Comments and spaces count towards the length. */
  readonly countsComments: boolean
  /** By ten times the number of the code. */
  readonly g: Uint8Array
  readonly m: Uint8Array
  readonly groupOfG: Uint8Array
  readonly groupOfM: Uint8Array
  readonly compact: boolean
  readonly strict: boolean
}

const made = new WeakMap<DialectChoice, Dialect>()

/** The tables of a dialect, made once for each choice. */
export function dialectOf(choice: DialectChoice): Dialect {
  let dialect = made.get(choice)
  if (dialect === undefined) {
    dialect = makeDialect(choice)
    made.set(choice, dialect)
  }
  return dialect
}

function makeDialect(choice: DialectChoice): Dialect {
  const g = new Uint8Array(1000)
  const m = new Uint8Array(1000)
  const groupOfG = new Uint8Array(1000)
  const groupOfM = new Uint8Array(1000)
  const compact = choice.base === 'compact'
  const strict = choice.base === 'rs274ngc-strict'
  const place = (code: string): [Uint8Array, Uint8Array, number] | undefined => {
    const parts = /^([GM])0*(\d{1,2}(?:\.\d)?)$/i.exec(code.trim())
    if (!parts) return undefined
    const isG = parts[1].toUpperCase() === 'G'
    return [isG ? g : m, isG ? groupOfG : groupOfM, Math.round(Number(parts[2]) * 10)]
  }
  for (const meaning of CODES.values()) {
    const at = place(meaning.code)
    if (!at) continue
    const [readings, groups, index] = at
    groups[index] = meaning.group
    readings[index] = (compact ? meaning.compact : strict ? meaning.strict : true) ? Reading.known : Reading.refused
  }
  // A tenths-less group would read as 0, the group of the codes that act once; unknown codes never get that far.
  for (const code of choice.add) {
    const at = place(code)
    if (at) at[0][at[2]] = CODES.has(code.trim().toUpperCase()) ? Reading.known : Reading.added
  }
  for (const code of choice.remove) {
    const at = place(code)
    if (at) at[0][at[2]] = Reading.refused
  }
  return {
    choice,
    name: compact ? 'the compact dialect' : strict ? 'the standard alone' : 'this dialect',
    lineLength: choice.lineLength ?? (compact ? 80 : 256),
    countsComments: !compact,
    g,
    m,
    groupOfG,
    groupOfM,
    compact,
    strict,
  }
}
