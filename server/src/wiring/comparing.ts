import type { Checked } from '../features/check.ts'
import type { ResumeParams, ResumeResult, WhatChangedParams, WhatChangedResult } from '../features/editorMessages.ts'
import { checkedWith } from '../features/fixes/trial.ts'
import { resume } from '../features/resume/resume.ts'
import { sourceOf } from '../features/rewrites/source.ts'
import { changesOf } from '../features/whatChanged/changes.ts'
import { changeReport } from '../features/whatChanged/report.ts'
import { fileName, normalUri } from '../job/uris.ts'
import { type Desk, runsOf } from './rewriting.ts'

/** Answers that need the job of an open program and one working-out more. */
export class Comparing {
  readonly #desk: Desk

  constructor(desk: Desk) {
    this.#desk = desk
  }

  async resume(params: ResumeParams, signal: AbortSignal): Promise<ResumeResult> {
    const uri = normalUri(params.uri)
    const { checked, text, why } = await this.#known(uri, signal)
    if (!checked || text === undefined) return { why }
    const [run] = runsOf(checked, uri)
    const machine = checked.outcome?.sheet.machine
    const program = checked.programs.get(uri)
    if (!run || !machine || !program) return { why }
    return resume(sourceOf(text, program, machine.dialect), run, params.line, checked.outcome.sheet, fileName(uri))
  }

  async whatChanged({ before, since, ...params }: WhatChangedParams, signal: AbortSignal): Promise<WhatChangedResult> {
    const uri = normalUri(params.uri)
    const { checked, text, why } = await this.#known(uri, signal)
    if (!checked?.outcome || text === undefined) return { why }
    const kept = this.#desk.checker.keptOf(checked.uri)
    if (!kept) return { why }
    const settings = await this.#desk.settings(uri)
    const trial = { workspace: this.#desk.files(), checked, settings, kept, signal }
    const old = await checkedWith(trial, uri, before)
    if (!old.outcome)
      return { why: 'No job can be worked out with the other text, so there is nothing to compare with.' }
    const changes = changesOf(old.outcome, checked.outcome, uri)
    const places = changes.flatMap(({ setup, copy, cut }) =>
      (cut?.places ?? []).map(({ way, volume, deepest, box }) => ({ setup, copy, way, volume, deepest, box })),
    )
    return { page: changeReport(fileName(uri), since, changes), places }
  }

  /** The check of an open program that has a job, once it is that of its present text. */
  async #known(uri: string, signal: AbortSignal): Promise<{ checked?: Checked; text?: string; why: string }> {
    const checks = await this.#desk.checker.checksOf(uri, signal)
    const text = this.#desk.documents.get(uri)?.getText()
    if (text === undefined) return { why: 'Open the program first.' }
    const checked = checks.find(({ outcome, programs }) => outcome && programs.has(uri))
    return {
      checked,
      text,
      why: 'No job sheet names this program, and it declares no blank in a comment: what it cuts is not known.',
    }
  }
}
