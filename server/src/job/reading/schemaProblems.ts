import type { z } from 'zod'
import type { SheetPath, SheetProblem } from '../sheetDocument.ts'
import { hintFor } from './nearestName.ts'
import { knownFields } from './schemaWalk.ts'
import type { SheetText } from './sheetText.ts'

type Issue = z.core.$ZodIssue

/** A problem still without its range. */
export interface Fault {
  readonly code: string
  readonly path: SheetPath
  /** Point at the field's name instead of its value. */
  readonly atName?: boolean
  readonly message: string
  readonly found?: number
  readonly limit?: number
  /** The job cannot be worked out with this in it. */
  readonly fatal?: boolean
}

/** Where a fault stands in the text. */
export function placeFault(fault: Fault, text: SheetText): SheetProblem {
  const { code, path, atName, message, found, limit } = fault
  return { code, range: atName ? text.nameRangeOf(path) : text.rangeOf(path), message, found, limit }
}

/** What the schema refuses, in the maker's words. `schema` is asked for the names that it would have taken. */
export function faultsOfIssues(issues: readonly Issue[], schema: z.ZodType, value: unknown): Fault[] {
  return issues.flatMap(issue => faultsOf(issue, [], schema, value))
}

function faultsOf(issue: Issue, base: SheetPath, schema: z.ZodType, value: unknown): Fault[] {
  const path: SheetPath = [...base, ...issue.path.map(step => (typeof step === 'symbol' ? String(step) : step))]
  const name = spoken(path)
  const found = valueAt(value, path)
  switch (issue.code) {
    case 'unrecognized_keys': {
      const known = knownFields(schema, path)
      return issue.keys.map(key => ({
        code: 'sheet/unknown-field',
        path: [...path, key],
        atName: true,
        message: `${name === 'The sheet' ? 'A job sheet' : name} has no field "${clip(key)}"; it is passed over.${hintFor(key, known)}`,
      }))
    }
    case 'invalid_union': {
      const branches = [...issue.errors].sort((a, b) => depthOf(b) - depthOf(a))
      const best = branches[0]
      if (best && depthOf(best) > 0) return best.flatMap(inner => faultsOf(inner, path, schema, value))
      const choices = issue.errors
        .flat()
        .flatMap(inner => (inner.code === 'invalid_value' ? inner.values.map(String) : []))
      return [
        choiceFault(
          path,
          name,
          found,
          choices,
          issue.errors.flat().some(inner => inner.code === 'invalid_type' && inner.expected === 'number'),
        ),
      ]
    }
    case 'invalid_value':
      if (found === undefined) return [missing(path)]
      return [choiceFault(path, name, found, issue.values.map(String), false)]
    case 'invalid_type': {
      if (found === undefined) return [missing(path)]
      const isNumber = issue.expected === 'number' || issue.expected === 'int'
      return [
        {
          code: isNumber ? 'sheet/bad-number' : 'sheet/bad-value',
          path,
          fatal: true,
          message: `${name} must be ${KINDS[issue.expected] ?? 'something else'}, not ${kindOf(found)}.`,
        },
      ]
    }
    case 'too_small':
    case 'too_big': {
      const limit = Number(issue.code === 'too_small' ? issue.minimum : issue.maximum)
      if (typeof found !== 'number')
        return [{ code: 'sheet/bad-value', path, fatal: true, message: sizeMessage(name, issue, limit) }]
      const side =
        issue.code === 'too_small'
          ? issue.inclusive
            ? 'at least'
            : 'more than'
          : issue.inclusive
            ? 'at most'
            : 'less than'
      return [
        {
          code: 'sheet/bad-number',
          path,
          fatal: true,
          found,
          limit,
          message: `${name} is ${found}; it must be ${side} ${limit}.`,
        },
      ]
    }
    case 'invalid_key':
      return [
        {
          code: 'sheet/bad-value',
          path,
          atName: true,
          fatal: true,
          message: `"${clip(String(path.at(-1)))}" is not a bit's number: bits stand under their T number, like "1".`,
        },
      ]
    case 'invalid_format':
      return [{ code: 'sheet/bad-value', path, fatal: true, message: `${name} must be a number like 1 or "1".` }]
    default:
      return [{ code: 'sheet/bad-value', path, fatal: true, message: `${name} cannot be read.` }]
  }
}

const KINDS: Record<string, string> = {
  number: 'a number',
  int: 'a whole number',
  string: 'text in "double quotes"',
  boolean: 'true or false',
  array: 'a list in [ ]',
  tuple: 'a list in [ ]',
  object: 'a group of fields in { }',
  record: 'a group of named things in { }',
}

function missing(path: SheetPath): Fault {
  const field = String(path.at(-1))
  return {
    code: 'sheet/missing-field',
    path: path.slice(0, -1),
    fatal: true,
    message: `${spoken(path.slice(0, -1))} needs ${/^\d+$/.test(field) ? 'more numbers' : `the field "${field}"`}.`,
  }
}

function choiceFault(
  path: SheetPath,
  name: string,
  found: unknown,
  choices: readonly string[],
  orNumber: boolean,
): Fault {
  const numbers = orNumber ? 'a number or ' : ''
  const list = choices.map(choice => (/^\d+$/.test(choice) ? choice : `"${choice}"`)).join(', ')
  const hint = typeof found === 'string' ? hintFor(found, choices).replace(/^ Known here.*/, '') : ''
  const code = typeof found === 'number' ? 'sheet/bad-number' : 'sheet/bad-value'
  return {
    code,
    path,
    fatal: true,
    message: `${name} must be ${numbers}${choices.length > 1 && !orNumber ? 'one of ' : ''}${list}.${hint}`,
  }
}

function sizeMessage(name: string, issue: Issue & { code: 'too_small' | 'too_big' }, limit: number): string {
  const side = issue.code === 'too_small' ? 'at least' : 'at most'
  const what =
    issue.origin === 'string' ? (limit === 1 ? 'character' : 'characters') : limit === 1 ? 'entry' : 'entries'
  return `${name} must have ${side} ${limit} ${what}.`
}

/** "diameter of bit 1", "size of blank \"dish\"": the path as a person would say it. */
export function spoken(path: SheetPath): string {
  if (path.length === 0) return 'The sheet'
  const [head, key, ...rest] = path
  const owner =
    head === 'bits' && key !== undefined
      ? `bit ${key}`
      : head === 'blanks' && key !== undefined
        ? `blank "${clip(String(key))}"`
        : head === 'setups' && key !== undefined
          ? `set-up ${Number(key) + 1}`
          : undefined
  const fields = (owner ? rest : path).map(step =>
    typeof step === 'number' ? `number ${step + 1}` : `"${clip(step)}"`,
  )
  if (owner && fields.length === 0) return owner[0].toUpperCase() + owner.slice(1)
  const inner = fields.join(' ')
  return owner ? `${inner} of ${owner}` : inner
}

const clip = (text: string) => (text.length > 60 ? `${text.slice(0, 57)}...` : text)

function kindOf(value: unknown): string {
  if (value === null) return 'null'
  if (Array.isArray(value)) return 'a list'
  if (typeof value === 'object') return 'a group of fields'
  if (typeof value === 'string') return 'text'
  return typeof value === 'number' && !Number.isInteger(value) ? String(value) : String(value)
}

/** How far into the value the branch of a union got before it failed. */
const depthOf = (issues: readonly Issue[]) =>
  Math.max(0, ...issues.map(issue => issue.path.length + (issue.code === 'unrecognized_keys' ? 1 : 0)))

function valueAt(value: unknown, path: SheetPath): unknown {
  let at = value
  for (const step of path) {
    if (typeof at !== 'object' || at === null || !Object.hasOwn(at, step)) return undefined
    at = (at as Record<string | number, unknown>)[step]
  }
  return at
}
