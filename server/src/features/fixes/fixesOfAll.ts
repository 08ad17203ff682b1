import type { Workspace } from '../../job/workspace.ts'
import type { Finding } from '../../rules/rule.ts'
import type { CheckedUnit, CheckSettings } from '../check.ts'
import type { Fix } from '../sheet/fix.ts'
import { fixesFor, isFixable } from './fixesFor.ts'

/** What is offered for each of some findings; those for which nothing is are not there. */
export type FixesOfAll = ReadonlyMap<Finding, readonly Fix[]>

/** Tries the fixes of all findings of a unit. `watch` is told before each finding. */
export async function fixesOfAll(
  { checked, kept }: CheckedUnit,
  workspace: Workspace,
  settings: CheckSettings,
  watch: (finding: Finding) => void = () => {},
): Promise<FixesOfAll> {
  const fixes = new Map<Finding, readonly Fix[]>()
  for (const finding of checked.findings) {
    if (!isFixable(finding.code)) continue
    watch(finding)
    const offered = await fixesFor({ workspace, checked, settings, kept }, finding)
    if (offered.length > 0) fixes.set(finding, offered)
  }
  return fixes
}
