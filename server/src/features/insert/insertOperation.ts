import type { Bit } from '../../stock/bit.ts'
import { OPERATIONS } from './catalogue.ts'
import { mmText, type Operation, type Parameter } from './operation.ts'
import { type Placed, type PlaceQuestion, siteAt } from './siteAt.ts'
import { writeSteps } from './write.ts'

const INCH = 25.4

/** An operation as it may be inserted at a place. */
export interface Insertable {
  readonly id: string
  readonly title: string
  readonly about: string
  /** In the units of the program at that place; a `count` in pieces. */
  readonly parameters: readonly (Parameter & { readonly unit: 'mm' | 'in' | '' })[]
}

/** What may be inserted at a place, with its numbers reckoned from the job; or why nothing can be. */
export function insertablesAt(question: PlaceQuestion): readonly Insertable[] | { readonly why: string } {
  const placed = siteAt(question)
  if ('why' in placed) return placed
  const found = insertables(placed)
  if (found.length > 0) return found
  const { plug, tools } = placed.site
  return { why: plug === undefined ? `Nothing that is offered here is cut with ${tools.bit.name}.` : filledBy(plug) }
}

function insertables(placed: Placed): Insertable[] {
  return OPERATIONS.filter(operation => whyNot(operation, placed) === undefined).map(operation => {
    const { id, title, about } = operation
    return { id, title, about, parameters: parametersOf(operation, placed) }
  })
}

function whyNot({ title, shapes, makes, wholeFace }: Operation, { site }: Placed): string | undefined {
  const { bit } = site.tools
  if (!shapes.includes(bit.shape)) return `${bit.name} is not a bit for this: ${title}.`
  if (wholeFace && site.clamped) return `Clamps stand on the face in this set-up: ${title} runs into them.`
  if (makes?.includes('pocket') && site.plug !== undefined) return filledBy(site.plug)
  const other = makes && site.runs.find(({ setup }) => !makes.includes(setup.makes))
  return other && `"${other.setup.name}" makes something else (${other.setup.makes}) than this: ${title}.`
}

const filledBy = (plug: string) =>
  `"${plug}" carves the plug that fills this pocket: what is cut here and not there shows as a gap. Change the motif in both programs.`

function parametersOf(operation: Operation, { site, surroundings: { inches } }: Placed): Insertable['parameters'] {
  const unit = inches ? INCH : 1
  const out = (mm: number | undefined, up: boolean) => {
    if (mm === undefined) return undefined
    const scale = inches ? 1000 : 100
    return (up ? Math.ceil(((mm - 1e-9) / unit) * scale) : Math.floor(((mm + 1e-9) / unit) * scale)) / scale
  }
  return operation.parameters(site).map(parameter => {
    if (parameter.count) return { ...parameter, unit: '' as const }
    const value = Math.round((site.tools.snap(parameter.value) / unit) * 1e4) / 1e4
    const { least, most } = parameter
    return { ...parameter, value, least: out(least, true), most: out(most, false), unit: inches ? 'in' : 'mm' }
  })
}

/** Lines to insert, or why they cannot be. */
export type Inserted = { readonly lines: readonly string[]; readonly bit: Bit } | { readonly why: string }

/**
 * The lines of an operation at a place.
 * @param values in the program's units, by the name of the parameter; those that are not given as they were reckoned
 */
export function operationAt(
  question: PlaceQuestion,
  id: string,
  values: Readonly<Record<string, number>> = {},
): Inserted {
  const placed = siteAt(question)
  return 'why' in placed ? placed : written(question, placed, id, values)
}

/** Everything that may be inserted at a place, with its lines as they are reckoned. */
export function operationsAt(question: PlaceQuestion): (Insertable & Extract<Inserted, { lines: unknown }>)[] {
  const placed = siteAt(question)
  if ('why' in placed) return []
  return insertables(placed).flatMap(each => {
    const inserted = written(question, placed, each.id, {})
    return 'why' in inserted ? [] : [{ ...each, ...inserted }]
  })
}

function written(
  question: PlaceQuestion,
  placed: Placed,
  id: string,
  values: Readonly<Record<string, number>>,
): Inserted {
  const { site, surroundings } = placed
  const operation = OPERATIONS.find(each => each.id === id)
  if (!operation) return { why: `There is no operation "${id}".` }
  const why = whyNot(operation, placed)
  if (why !== undefined) return { why }
  const unit = surroundings.inches ? INCH : 1
  const chosen: Record<string, number> = {}
  for (const { name, value, least, most, title, count } of operation.parameters(site)) {
    const given = values[name]
    const own = count ? Math.round(given ?? value) : site.tools.snap(given === undefined ? value : given * unit)
    if (
      !Number.isFinite(own) ||
      (least !== undefined && own < least - 1e-6) ||
      (most !== undefined && own > most + 1e-6)
    ) {
      return { why: `The ${title} cannot be ${given}.` }
    }
    chosen[name] = own
  }
  const { deepest, tools } = site
  if (chosen.depth > deepest) {
    return { why: `${tools.bit.name} cannot cut deeper than ${mmText(deepest)} beside a wall: take a longer bit.` }
  }
  try {
    return {
      lines: writeSteps(operation.steps(site.tools, chosen, site), question, surroundings),
      bit: site.tools.bit,
    }
  } catch (error) {
    if (error instanceof RangeError) return { why: error.message }
    throw error
  }
}
