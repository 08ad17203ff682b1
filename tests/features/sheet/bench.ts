import { type Checked, type CheckSettings, checkUnit, type Kept, newKept } from '../../../server/src/features/check.ts'
import { positionsOf } from '../../../server/src/job/reading/sheetText.ts'
import type { Workspace } from '../../../server/src/job/workspace.ts'
import type { Position } from '../../../server/src/syntax/source.ts'
import { memoryWorkspace } from '../../job/memoryWorkspace.ts'
import { DISH_PROGRAMS } from '../../rules/dish.ts'

export const SHEET_URI = 'file:///job/job.jobsheet.json'
export const SETTINGS: CheckSettings = { severity: {}, dialect: { base: 'rs274ngc', add: [], remove: [] }, roots: [] }

/** The dish of the rules' tests as a sheet that a person might write, one field a line. */
export const DISH_TEXT = `{
  // a disc of walnut through a maple dish
  "title": "Small dish",
  "limits": { "floor": 4, "reveal": 0.3 },
  "tolerances": { "zero": 0.1, "bed": 0.1 },
  "bits": {
    "1": { "name": "6 mm flat", "shape": "flat", "diameter": 6, "cuttingLength": 30, "stickout": 45, "maxPassDepth": 30, "chipLoad": [0.02, 0.12] },
  },
  "blanks": {
    "dish": { "size": [80, 80, 24], "material": "maple, sugar" },
    "plugs": { "size": [40, 40, 18], "material": "walnut, black" },
  },
  "setups": [
    { "name": "plug", "blank": "plugs", "program": "plug.nc", "makes": "plug", "sawAt": 10.4 },
    { "name": "pocket", "blank": "dish", "face": "underside", "program": "pocket.nc", "makes": "pocket" },
    { "name": "glue", "blank": "dish", "insert": { "plug": "plug", "into": "pocket", "glueLine": 0.1 } },
    { "name": "level", "blank": "dish", "face": "underside", "program": "level.nc", "makes": "level" },
    { "name": "cavity", "blank": "dish", "face": "top", "program": "cavity.nc", "makes": "cavity" },
  ],
}
`

export interface Bench {
  readonly workspace: Workspace
  readonly kept: Kept
  readonly checked: Checked
}

/** The dish with some of its files changed, checked. */
export async function checkDish(changes: Readonly<Record<string, string>> = {}): Promise<Bench> {
  const workspace = memoryWorkspace({ 'job.jobsheet.json': DISH_TEXT, ...DISH_PROGRAMS, ...changes })
  const kept = newKept()
  return { workspace, kept, checked: await checkUnit(workspace, SHEET_URI, SETTINGS, kept) }
}

/** The place of `|` in a text, and the text without it. */
export function caret(marked: string): { text: string; at: Position } {
  const offset = marked.indexOf('|')
  if (offset < 0) throw new Error('no | in the text')
  const text = marked.slice(0, offset) + marked.slice(offset + 1)
  return { text, at: positionsOf(text)(offset) }
}
