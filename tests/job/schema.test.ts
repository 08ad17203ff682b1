import { Ajv } from 'ajv'
import { expect, it } from 'vitest'
import { sheetJsonSchema } from '../../server/src/job/schema.ts'
import { SHEET } from './workedExample.ts'

const schema = sheetJsonSchema()

it('is a JSON Schema that takes a good sheet and refuses a bad one', () => {
  const validate = new Ajv({ strict: false }).compile(schema)
  expect(validate(SHEET), JSON.stringify(validate.errors)).toBe(true)
  expect(validate({ ...SHEET, blanks: { dish: { size: [160, 160, 0] } } })).toBe(false)
  expect(validate({ ...SHEET, setpus: [] })).toBe(false)
})

/** Fields (not the items of lists) that say nothing to the one who hovers over them. */
function silent(node: unknown, path: string): string[] {
  if (typeof node !== 'object' || node === null) return []
  const { properties, items, additionalProperties, anyOf } = node as Record<string, unknown>
  const found: string[] = []
  for (const [name, field] of Object.entries((properties ?? {}) as Record<string, { description?: string }>)) {
    if (!field.description) found.push(`${path}.${name}`)
    found.push(...silent(field, `${path}.${name}`))
  }
  const inner = [items, additionalProperties, ...((anyOf ?? []) as unknown[])]
  return [...found, ...inner.flatMap(part => silent(part, path))]
}

it('says what every field is for', () => {
  expect(silent(schema, '')).toEqual([])
  // Not empty for want of looking.
  expect(silent({ properties: { a: {} } }, '')).toEqual(['.a'])
})
