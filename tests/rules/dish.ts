import { expect } from 'vitest'
import { loadJob } from '../../server/src/job/loadJob.ts'
import { runJob } from '../../server/src/job/runJob.ts'
import { checkJob, checkSheet } from '../../server/src/rules/checkJob.ts'
import type { CheckResult, Finding } from '../../server/src/rules/rule.ts'
import { memoryWorkspace } from '../job/memoryWorkspace.ts'
import { disc, raster, ring } from '../job/workedExample.ts'
import { FOLDER } from './annotated.ts'
import { checkTexts, FLAT_6 } from './job.ts'

const SHEET_URI = 'file:///job/job.jobsheet.json'

/**
 * A small dish: a disc of walnut, radius 10, through the floor of a maple blank 80 x 80 x 24. As it stands nothing is
 * wrong with it; each test spoils one thing.
 */
export const DISH_PROGRAMS = {
  'plug.nc': ring(20, 20, 9.9, 10.4),
  'pocket.nc': disc(40, 40, 10, 10),
  'level.nc': raster(80, 80, 0.8),
  'cavity.nc': disc(40, 40, 20, 16),
}

type Part = Record<string, unknown>

const SETUPS: Readonly<Record<string, Part>> = {
  plug: { blank: 'plugs', program: 'plug.nc', makes: 'plug', sawAt: 10.4 },
  pocket: { blank: 'dish', face: 'underside', program: 'pocket.nc', makes: 'pocket' },
  glue: { blank: 'dish', insert: { plug: 'plug', into: 'pocket', glueLine: 0.1 } },
  level: { blank: 'dish', face: 'underside', program: 'level.nc', makes: 'level' },
  cavity: { blank: 'dish', face: 'top', program: 'cavity.nc', makes: 'cavity' },
}

/** The sheet of that dish; set-ups changed by name, or added after the others. */
export function dishSheet(changes: Readonly<Record<string, Part>> = {}, rest: Part = {}): object {
  return {
    bits: { 1: { ...FLAT_6, cuttingLength: 30, stickout: 45, maxPassDepth: 30, chipLoad: [0.02, 0.12] } },
    blanks: {
      dish: { size: [80, 80, 24], material: 'maple, sugar' },
      plugs: { size: [40, 40, 18], material: 'walnut, black' },
    },
    setups: Object.entries({ ...SETUPS, ...changes }).map(([name, setup]) => ({ name, ...SETUPS[name], ...setup })),
    ...rest,
  }
}

/** These programs come straight down onto every floor; nobody looks at that here. */
const NOT_LOOKED_AT = new Set(['plunge/onto-floor'])

/** Checks a job and lists what is found as `file: words: code severity`, with the findings themselves. */
export function expectFound(
  programs: Readonly<Record<string, string>>,
  sheet: object,
  wanted: readonly string[],
): { result: CheckResult; findings: readonly Finding[] } {
  const result = checkTexts(programs, sheet)
  const findings = result.findings.filter(({ code }) => !NOT_LOOKED_AT.has(code))
  const texts = { ...programs, 'job.jobsheet.json': JSON.stringify(sheet) }
  const found = findings.map(finding => `${place(texts, finding)}: ${finding.code} ${finding.severity}`)
  expect(found.sort(), findings.map(({ message }) => message).join('\n')).toEqual([...wanted].sort())
  return { result, findings }
}

function place(texts: Readonly<Record<string, string>>, { file, range }: Finding): string {
  const name = file.slice(FOLDER.length)
  const words = texts[name].split('\n')[range.start.line].slice(range.start.character, range.end.character)
  return `${name}: ${words}`
}

/**
 * Checks a sheet with the programs of the dish, read as files are, and lists what is wrong with it as `words: code`.
 * Only what comes out when the programs are run needs them `run`.
 */
export async function expectSheet(text: string, wanted: readonly string[], how?: 'run'): Promise<void> {
  const loaded = await loadJob(memoryWorkspace({ ...DISH_PROGRAMS, 'job.jobsheet.json': text }), SHEET_URI)
  if (!loaded) throw new Error('the sheet could not be read')
  const job = how === 'run' ? runJob(loaded) : undefined
  const { findings } = job ? checkJob(job) : checkSheet(loaded.document)
  const found = findings
    .filter(({ code }) => code.startsWith('sheet/'))
    .map(({ code, range }) => `${text.slice(range.start.character, range.end.character)}: ${code}`)
  expect(found).toEqual(wanted)
}
