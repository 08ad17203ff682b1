import { OPERATIONS } from '../../../server/src/features/insert/catalogue.ts'
import { insertablesAt, operationAt } from '../../../server/src/features/insert/insertOperation.ts'
import type { PlaceQuestion } from '../../../server/src/features/insert/siteAt.ts'
import { newMemo } from '../../../server/src/job/memo.ts'
import type { JobOutcome } from '../../../server/src/job/outcome.ts'
import { readSheet } from '../../../server/src/job/readSheet.ts'
import { runJob } from '../../../server/src/job/runJob.ts'
import { readProgram } from '../../../server/src/machine/readProgram.ts'
import { checkJob } from '../../../server/src/rules/checkJob.ts'
import type { Finding } from '../../../server/src/rules/rule.ts'
import { ProgramText } from '../../../server/src/syntax/programText.ts'
import { FOLDER } from '../../rules/annotated.ts'
import { FLAT_6, sheetWith } from '../../rules/job.ts'

/** The program of a job of one set-up. */
export const PART = `${FOLDER}part.nc`

const memo = newMemo()

export interface CheckedPart {
  readonly job: JobOutcome
  readonly findings: readonly Finding[]
}

export function checkPart(text: string, sheet: object): CheckedPart {
  const document = readSheet(`${FOLDER}job.jobsheet.json`, JSON.stringify(sheet))
  const program = readProgram(new TextEncoder().encode(text), { dialect: document.sheet?.machine.dialect })
  const job = runJob({ document, programs: new Map([[PART, program]]) }, memo)
  if (!job) throw new Error(JSON.stringify(document.problems))
  return { job, findings: checkJob(job).findings }
}

/** What is asked at a line of the program of such a job, 0-based: the line before which something is inserted. */
export function questionAt(text: string, sheet: object, line: number): PlaceQuestion {
  const { job } = checkPart(text, sheet)
  const runs = job.copies.flatMap(copy => copy.setups.flatMap(setup => setup.run ?? []))
  const program = readProgram(new TextEncoder().encode(text), { dialect: job.sheet.machine.dialect })
  return { text: new ProgramText(text), program, runs, others: runs, sheet: job.sheet, line }
}

/** The text with an operation put before a line. */
export function withOperation(text: string, line: number, inserted: readonly string[]): string {
  const lines = text.split('\n')
  lines.splice(line, 0, ...inserted)
  return lines.join('\n')
}

/** The lines of an operation, or its refusal as an error. */
export function linesOf(question: PlaceQuestion, id: string, values: Record<string, number> = {}): readonly string[] {
  const inserted = operationAt(question, id, values)
  if ('why' in inserted) throw new Error(`${id}: ${inserted.why}`)
  return inserted.lines
}

export const ids = OPERATIONS.map(({ id }) => id)

/** Ids of what is offered at a place. */
export function offered(question: PlaceQuestion): string[] {
  const found = insertablesAt(question)
  return 'why' in found ? [] : found.map(({ id }) => id)
}

export const DOWN_4 = {
  name: '4 mm down-cut',
  shape: 'flat',
  diameter: 4,
  spiral: 'down',
  flutes: 2,
  cuttingLength: 14,
  stickout: 22,
  shankDiameter: 4,
  maxRampAngle: 3,
  maxPassDepth: 2,
  chipLoad: [0.02, 0.06],
  maxPlungeFeed: 300,
}

export const BOWL_20 = {
  name: '20 mm bowl bit',
  shape: 'bowl',
  diameter: 20,
  cornerRadius: 5,
  spiral: 'straight',
  flutes: 2,
  cuttingLength: 20,
  stickout: 40,
  shankDiameter: 8,
  chipLoad: [0.04, 0.12],
  maxSpeed: 18000,
}

export const SURFACING_25 = {
  name: '25 mm surfacing bit',
  shape: 'flat',
  diameter: 25,
  spiral: 'straight',
  flutes: 2,
  cuttingLength: 8,
  stickout: 25,
  shankDiameter: 6,
  centreCutting: false,
  maxRampAngle: 3,
  maxPassDepth: 1.5,
  chipLoad: [0.04, 0.12],
  maxSpeed: 18000,
}

/** A bit with nothing declared but its size: what the job fills in must do. */
export const BARE_6 = { diameter: 6 }

export const dish = (bits: object, changes: Parameters<typeof sheetWith>[0] = {}) =>
  sheetWith({ bits, blank: { size: [150, 110, 24] }, ...changes })

export { FLAT_6, sheetWith }
