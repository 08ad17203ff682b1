import { ALL_RULES } from '../../rules/all.ts'
import type { Cure } from '../../rules/cure.ts'
import type { Finding } from '../../rules/rule.ts'
import { edited, Refusal, sourceOf } from '../rewrites/source.ts'
import type { Fix } from '../sheet/fix.ts'
import { levelFixes } from '../sheet/levelFix.ts'
import { nameFixes } from '../sheet/nameFix.ts'
import { numberFixes } from '../sheet/numberFix.ts'
import { cured } from './noWorse.ts'
import type { Proposal, Scene } from './scene.ts'
import { checkedWith, type Trial } from './trial.ts'
import { WAYS } from './ways/all.ts'

const CURES: ReadonlyMap<string, Cure> = new Map(ALL_RULES.flatMap(({ id, fix }) => (fix ? [[id, fix] as const] : [])))

/** Whether anything is ever offered for a finding of that code. */
export const isFixable = (code: string): boolean => CURES.has(code)

/** Whether its fixes say different things of what is at the machine, so that only a person can choose. */
export const isChoice = (code: string): boolean => ['which-bit', 'one-word'].includes(CURES.get(code) ?? '')

/**
 * The edits that do away with a finding. Each has been tried in the whole unit that was checked: the finding is gone, and
 * nothing else is found that was not, or was not as grave.
 */
export async function fixesFor(trial: Trial, finding: Finding): Promise<readonly Fix[]> {
  const cure = CURES.get(finding.code)
  if (!cure) return []
  if (cure === 'last-level')
    return [...(await levelFixes({ ...trial, finding })), ...(await numberFixes(trial, finding))]
  if (cure === 'sheet-number') return numberFixes(trial, finding)
  if (cure === 'name') {
    const bytes = await trial.workspace.read(finding.file)
    return bytes ? nameFixes(trial.workspace, new TextDecoder().decode(bytes), finding) : []
  }
  const scene = await sceneOf(trial, finding)
  if (!scene) return []
  const fixes: Fix[] = []
  for (const { title, edits, elseOnly } of proposed(() => WAYS[cure](scene))) {
    if (elseOnly && fixes.length > 0) continue
    const after = await checkedWith(trial, scene.file, edited(scene.source.text, edits))
    if (cured(trial.checked, after, finding)) fixes.push({ title, file: scene.file, edits, finding })
  }
  return fixes
}

function proposed(work: () => readonly Proposal[]): readonly Proposal[] {
  try {
    return work().filter(({ edits }) => edits.length > 0)
  } catch (error) {
    if (error instanceof Refusal) return []
    throw error
  }
}

/** The program of a finding: its own file, or that of the set-up which a finding of the sheet speaks of. */
async function sceneOf({ checked, workspace, settings }: Trial, finding: Finding): Promise<Scene | undefined> {
  const { outcome, programs } = checked
  const setups = outcome?.copies.flatMap(copy => copy.setups.flatMap(({ run }) => run ?? [])) ?? []
  const named = setups.find(({ setup }) => setup.name === finding.setup)?.setup.program
  const file = programs.has(finding.file) ? finding.file : named
  const program = file === undefined ? undefined : programs.get(file)
  const bytes = file === undefined ? undefined : await workspace.read(file)
  if (file === undefined || !program || !bytes) return undefined
  const text = new TextDecoder('utf-8').decode(bytes)
  const dialect = outcome?.sheet.machine.dialect ?? settings.dialect
  const runs = setups.filter(({ setup }) => setup.program === file)
  return { finding, file, source: sourceOf(text, program, dialect), runs, outcome }
}
