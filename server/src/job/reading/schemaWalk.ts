import { z } from 'zod'
import type { SheetPath } from '../sheetDocument.ts'

/** What the schema has at a path: every branch of a union; empty where it has nothing of that kind. */
export function schemasAt(schema: z.ZodType, path: SheetPath): z.ZodType[] {
  let options = bare(schema)
  for (const step of path) options = options.flatMap(option => stepInto(option, step)).flatMap(bare)
  return options
}

/** Names of the fields that the schema takes at a path. */
export function knownFields(schema: z.ZodType, path: SheetPath): string[] {
  return schemasAt(schema, path).flatMap(option => (option instanceof z.ZodObject ? Object.keys(option.shape) : []))
}

/** What a field means, in the schema's words; the description stands on the field itself or on what it is made of. */
export function meaningAt(schema: z.ZodType, path: SheetPath): string | undefined {
  const owners = path.length === 0 ? [schema] : schemasAt(schema, path.slice(0, -1))
  const own = path.length === 0 ? owners : owners.flatMap(owner => stepInto(owner, path[path.length - 1]))
  for (const option of own) {
    const text = meaningOf(option)
    if (text !== undefined) return text
  }
  return undefined
}

function meaningOf(schema: z.ZodType): string | undefined {
  if (schema.description !== undefined) return schema.description
  return schema instanceof z.ZodOptional ? meaningOf(schema.unwrap() as z.ZodType) : undefined
}

/** The words and numbers that a field may be, where they can be listed. */
export function choicesAt(schema: z.ZodType, path: SheetPath): (string | number | boolean)[] {
  return schemasAt(schema, path).flatMap(option => {
    if (option instanceof z.ZodEnum) return option.options
    if (option instanceof z.ZodLiteral) return [...option.values].filter(value => typeof value !== 'bigint')
    return option instanceof z.ZodBoolean ? [true, false] : []
  }) as (string | number | boolean)[]
}

function stepInto(schema: z.ZodType, step: string | number): z.ZodType[] {
  if (schema instanceof z.ZodObject) return Object.hasOwn(schema.shape, step) ? [schema.shape[step]] : []
  if (schema instanceof z.ZodRecord) return [schema.valueType as z.ZodType]
  if (schema instanceof z.ZodArray) return [schema.element as z.ZodType]
  return []
}

function bare(schema: z.ZodType): z.ZodType[] {
  if (schema instanceof z.ZodOptional) return bare(schema.unwrap() as z.ZodType)
  if (schema instanceof z.ZodUnion) return (schema.options as z.ZodType[]).flatMap(bare)
  return [schema]
}
