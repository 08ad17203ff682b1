import { nearestName } from '../../job/reading/nearestName.ts'
import { knownFields } from '../../job/reading/schemaWalk.ts'
import { readSheetText } from '../../job/reading/sheetText.ts'
import { readSheet } from '../../job/readSheet.ts'
import { sheetSchema } from '../../job/schema.ts'
import type { SheetPath } from '../../job/sheetDocument.ts'
import { folderOf, resolveBeside } from '../../job/uris.ts'
import type { Workspace } from '../../job/workspace.ts'
import type { Finding } from '../../rules/rule.ts'
import type { Fix } from './fix.ts'
import { namesFor, PROGRAM_ENDING } from './names.ts'
import { offsetOf, placeAt } from './place.ts'

/** Findings that a name written otherwise does away with. */
const CURABLE = new Set([
  'sheet/unknown-field',
  'sheet/unknown-blank',
  'sheet/unknown-bit',
  'sheet/unknown-setup',
  'sheet/unknown-copy',
  'sheet/missing-file',
])

/** With more bits than this a list of them is no help. */
const MOST_BITS = 6

/** The name that was most likely meant, for a finding on a name of the sheet that leads nowhere. */
export async function nameFixes(workspace: Workspace, text: string, finding: Finding): Promise<Fix[]> {
  if (!CURABLE.has(finding.code)) return []
  const place = placeAt(text, finding.range.start)
  if (!place) return []
  const { path, range } = place
  const [from, to] = [offsetOf(text, range.start), offsetOf(text, range.end)]
  const literal = text.slice(from, to)
  const written = literal.startsWith('"') ? String(safely(literal)) : literal
  const names = await meant(workspace, text, finding, path, written)
  return names.flatMap(({ name, about }) => {
    const replacement = literal.startsWith('"') ? JSON.stringify(name) : name
    const after = text.slice(0, from) + replacement + text.slice(to)
    if (name === written || stillThere(finding, after)) return []
    const title = `Write ${JSON.stringify(name)} here${about ? ` (${about})` : ''}`
    return [{ title, file: finding.file, edits: [{ range, text: replacement }], finding }]
  })
}

interface Meant {
  readonly name: string
  readonly about?: string
}

async function meant(
  workspace: Workspace,
  text: string,
  { code, file }: Finding,
  path: SheetPath,
  written: string,
): Promise<readonly Meant[]> {
  const nearest = (names: readonly string[]): Meant[] => {
    const name = nearestName(written, names)
    return name === undefined ? [] : [{ name }]
  }
  if (code === 'sheet/unknown-field') {
    const owner = path.slice(0, -1)
    const beside = Object.keys(Object(valueIn(text, owner)))
    return nearest(knownFields(sheetSchema, owner).filter(name => !beside.includes(name)))
  }
  if (code === 'sheet/missing-file') return nearest(await filesLike(workspace, file, written))
  const known = (await namesFor(workspace, file, text, path)) ?? []
  // Which bit is in the spindle cannot be told from its number: the person sees what each of them is.
  if (code === 'sheet/unknown-bit' && known.length <= MOST_BITS) return known
  return nearest(known.map(({ name }) => name))
}

/** Programs in the folder that a name points into, spelled as that name is. */
async function filesLike(workspace: Workspace, sheet: string, written: string): Promise<string[]> {
  const uri = resolveBeside(sheet, written)
  if (uri === undefined) return []
  const folder = written.slice(0, Math.max(written.lastIndexOf('/'), written.lastIndexOf('\\')) + 1)
  const names = await workspace.list(folderOf(uri))
  return names.filter(name => PROGRAM_ENDING.test(name)).map(name => folder + name)
}

/** Whether a sheet so edited has the same thing wrong at the same place; that a file is there was looked up. */
function stillThere({ file, code, range }: Finding, edited: string): boolean {
  return readSheet(file, edited).problems.some(
    problem =>
      problem.code === code &&
      problem.range.start.line === range.start.line &&
      problem.range.start.character === range.start.character,
  )
}

function valueIn(text: string, path: SheetPath): unknown {
  let { value } = readSheetText(text)
  for (const step of path) value = Object(value)[step]
  return value
}

function safely(literal: string): unknown {
  try {
    return JSON.parse(literal)
  } catch {
    return literal
  }
}
