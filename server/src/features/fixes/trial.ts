import { quietMemo } from '../../job/memo.ts'
import type { Workspace } from '../../job/workspace.ts'
import { readProgram } from '../../machine/readProgram.ts'
import { type Checked, type CheckSettings, checkUnit, type Kept } from '../check.ts'

/** A check that has been made, and what it takes to make it again with another text. */
export interface Trial {
  readonly workspace: Workspace
  readonly checked: Checked
  readonly settings: CheckSettings
  readonly kept: Kept
  readonly signal?: AbortSignal
}

/** The same unit checked as if a file held another text; nothing of it is kept but what both have in common. */
export function checkedWith(trial: Trial, file: string, text: string): Promise<Checked> {
  const { workspace, checked, settings, kept, signal } = trial
  const bytes = new TextEncoder().encode(text)
  const aside: Workspace = {
    read: async uri => (uri === file ? bytes : workspace.read(uri)),
    list: folder => workspace.list(folder),
  }
  const shelf: Kept['shelf'] = {
    read: (uri, from, dialect, toolDiameters) =>
      uri === file ? readProgram(from, { dialect, toolDiameters }) : kept.shelf.read(uri, from, dialect, toolDiameters),
    sheet: kept.shelf.sheet,
  }
  return checkUnit(aside, checked.uri, settings, { shelf, memo: quietMemo(kept.memo) }, signal)
}
