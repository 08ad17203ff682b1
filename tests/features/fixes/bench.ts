import { checkUnit, newKept } from '../../../server/src/features/check.ts'
import { fixesFor } from '../../../server/src/features/fixes/fixesFor.ts'
import type { Trial } from '../../../server/src/features/fixes/trial.ts'
import { edited } from '../../../server/src/features/rewrites/source.ts'
import type { Finding } from '../../../server/src/rules/rule.ts'
import { memoryWorkspace } from '../../job/memoryWorkspace.ts'
import { SETTINGS } from '../sheet/bench.ts'

export const FILE = 'file:///job/a.nc'

/** A unit of files checked, ready for fixes to be tried on it. */
export async function trialOf(files: Readonly<Record<string, string>>, unit = FILE): Promise<Trial> {
  const workspace = memoryWorkspace(files)
  const kept = newKept()
  return { workspace, kept, settings: SETTINGS, checked: await checkUnit(workspace, unit, SETTINGS, kept) }
}

export interface Mended {
  readonly title: string
  readonly text: string
}

/** What is offered for the first finding of a code in a lone program. */
export async function mended(text: string, code: string): Promise<Mended[]> {
  const trial = await trialOf({ 'a.nc': text })
  const finding = trial.checked.findings.find(each => each.code === code)
  if (!finding) throw new Error(`${code} is not found, but ${trial.checked.findings.map(each => each.code).join(', ')}`)
  return offers(trial, finding, text)
}

export async function offers(trial: Trial, finding: Finding, text: string): Promise<Mended[]> {
  const fixes = await fixesFor(trial, finding)
  return fixes.map(({ title, edits }) => ({ title, text: edited(text, edits) }))
}

export const HEAD = `(blank: 60 x 40 x 14 mm, zero near-left face)
(bit 1: flat 6 mm, 2 flutes, cutting length 22, chip load 0.02-0.06)
G21 G90 G17
S16000 M3
G0 Z10
`
export const TAIL = `G0 Z10
M5
M2
`
