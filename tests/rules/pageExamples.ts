import { readFileSync } from 'node:fs'
import { join } from 'node:path'
import { type Checked, checkUnit, type Kept, newKept } from '../../server/src/features/check.ts'
import { memoryWorkspace } from '../job/memoryWorkspace.ts'

/**
 * The examples on the rules' pages are run. A fence with no name is a program by itself. One that bears the name of a
 * file changes the example dish (`example-dish.md`): each of its lines takes the place of the line there that begins
 * with the same words (a parameter, a field, a set-up's name); one that ends a program or a sheet is the whole file.
 */
export const RULES = new URL('../../server/src/rules', import.meta.url).pathname

interface Fence {
  /** Undefined for a program by itself. */
  readonly file?: string
  readonly text: string
}

export interface Example {
  readonly wrong: readonly Fence[]
  readonly mended: readonly Fence[]
}

function fencesOf(markdown: string): Fence[] {
  return [...markdown.matchAll(/^```(\w+)(?: (\S+))?\n([\s\S]*?)^```$/gm)].map(([, , file, text]) => ({ file, text }))
}

export function exampleOf(page: string): Example {
  const [, section = ''] = /^## Example\n([\s\S]*?)^## /m.exec(page) ?? []
  const [wrong, mended = ''] = section.split(/^Mended:$/m)
  return { wrong: fencesOf(wrong), mended: fencesOf(mended) }
}

const FOLDER = 'file:///job/'
const SHEET = 'dish.jobsheet.json'

const DISH: ReadonlyMap<string, string> = new Map(
  fencesOf(readFileSync(join(RULES, 'example-dish.md'), 'utf8')).map(({ file, text }) => [file ?? '', text]),
)

/** What a line is about: a parameter, a field, a set-up by its name. */
const KEY = /^\s*(#<\w+> =|\{ "name": "[^"]*"|"[^"]+":)/

function changed(file: string, text: string): string {
  const base = DISH.get(file)
  const isWhole = /^\s*M(2|30)\s*$/m.test(text) || /^\s*\{\s*$|^\{ "t/m.test(text)
  if (base === undefined || isWhole) return text
  const lines = base.split('\n')
  for (const line of text.trimEnd().split('\n')) {
    if (/^\s*(\(|\/\/|;|$)/.test(line)) continue
    const [, key] = KEY.exec(line) ?? []
    const at = lines.findIndex(own => key !== undefined && KEY.exec(own)?.[1] === key)
    if (at < 0) throw new Error(`the example dish has no line like "${line}" in ${file}`)
    const comma = file === SHEET && !/,\s*(\/\/.*)?$/.test(line)
    lines[at] = comma ? line.replace(/(\s*\/\/.*)?$/, ',$1') : line
  }
  return lines.join('\n')
}

/** Jobs of the pages differ in few programs: the others are not run anew. */
const KEPT: Kept = newKept()

/** Checks one side of an example. `compact` pages say so in a comment. */
export function checkFences(fences: readonly Fence[]): Promise<Checked> {
  const named = fences.filter(fence => fence.file !== undefined)
  const settings = {
    severity: {},
    dialect: { base: /dialect compact/.test(fences[0].text) ? 'compact' : 'rs274ngc', add: [], remove: [] },
    roots: [FOLDER],
  } as const
  if (named.length === 0)
    return checkUnit(memoryWorkspace({ 'program.nc': fences[0].text }), `${FOLDER}program.nc`, settings)
  const files = new Map(DISH)
  for (const { file = '', text } of named) files.set(file, changed(file, text))
  return checkUnit(memoryWorkspace(Object.fromEntries(files)), FOLDER + SHEET, settings, KEPT)
}
