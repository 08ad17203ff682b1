import { findNodeAtLocation, getNodeValue } from 'jsonc-parser'
import { meaningAt } from '../../job/reading/schemaWalk.ts'
import { sheetSchema } from '../../job/schema.ts'
import type { SheetPath } from '../../job/sheetDocument.ts'
import { mm } from '../../rules/common/wording.ts'
import type { Position, Range } from '../../syntax/source.ts'
import { effectOf, type KnownJob } from './effect.ts'
import { escaped } from './markdown.ts'
import { placeAt, treeOf } from './place.ts'

export interface SheetHover {
  readonly range: Range
  readonly markdown: string
}

/**
 * What the field at a position means, what its value comes to in millimetres, and what it does to this job. undefined where no field stands.
 */
export async function sheetHoverAt(text: string, at: Position, job?: KnownJob): Promise<SheetHover | undefined> {
  const place = placeAt(text, at)
  if (!place || place.path.length === 0) return undefined
  const path = fieldOf(place.path)
  const parts = [headOf(path), meaningAt(sheetSchema, path), inMillimetres(text, path)]
  const lines = job ? await effectOf(job, path) : []
  const markdown = [...parts.filter(part => part !== undefined && part !== ''), ...lines].join('\n\n')
  return { range: place.range, markdown }
}

/** A number of a list speaks for the list: `"clearance": [0.05, 0.15]` is one field. */
function fieldOf(path: SheetPath): SheetPath {
  let end = path.length
  while (end > 2 && typeof path[end - 1] === 'number') end--
  return path.slice(0, end)
}

function headOf(path: SheetPath): string {
  return `**${escaped(path.map(step => (typeof step === 'number' ? `${step + 1}` : step)).join(' › '))}**`
}

/** Lengths of a sheet in inches, as they are reckoned with. */
function inMillimetres(text: string, path: SheetPath): string | undefined {
  const tree = treeOf(text)
  const node = tree && findNodeAtLocation(tree, [...path])
  if (!node || !tree) return undefined
  const units = findNodeAtLocation(tree, ['units'])
  if (units?.value !== 'inch' || !isLength(path)) return undefined
  const value: unknown = getNodeValue(node)
  const numbers = Array.isArray(value) ? value : [value]
  if (!numbers.every(each => typeof each === 'number')) return undefined
  return `In millimetres: ${numbers.map(each => mm(each * 25.4)).join(' x ')}`
}

const bitLengths = new Set(
  'diameter cornerRadius tipDiameter cuttingLength stickout shankDiameter colletDiameter maxPassDepth chipLoad'.split(
    ' ',
  ),
)

/** Whether a number there is a length in the sheet's units. */
function isLength(path: SheetPath): boolean {
  const [group, , field] = path
  const last = path[path.length - 1]
  if (group === 'limits' || group === 'tolerances') return path.length === 2
  if (group === 'bits') return bitLengths.has(String(field))
  if (group === 'blanks') return ['size', 'diameter', 'thickness'].includes(String(last))
  if (group === 'keepOut') return ['box', 'height'].includes(String(last))
  if (group === 'machine') return last === 'travel' || last === 'clearance'
  if (group !== 'setups') return false
  if (path.includes('measured')) return typeof last === 'string' && last !== 'measured'
  const lengths = ['sawAt', 'through', 'x', 'y', 'touch', 'offset', 'pins', 'leaves', 'glueLine', 'maxPourDepth']
  return lengths.includes(String(last)) || last === 'roundOver' || last === 'bearing'
}
