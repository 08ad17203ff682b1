import { newMemo } from '../../server/src/job/memo.ts'
import { readSheet } from '../../server/src/job/readSheet.ts'
import { runJob } from '../../server/src/job/runJob.ts'
import { readProgram } from '../../server/src/machine/readProgram.ts'
import { checkJob } from '../../server/src/rules/checkJob.ts'
import type { CheckOptions, CheckResult } from '../../server/src/rules/rule.ts'
import { compare, FOLDER, readMarks, type Wishes } from './annotated.ts'

/** A folder in memory: programs by name, each perhaps with findings written under its lines. */
export type Programs = Readonly<Record<string, string>>

/** Jobs of one file differ in one program: the others are not carved anew. */
const memo = newMemo()

/** Runs a job through the whole pipeline. Programs stand beside the sheet, under the names that it gives them. */
export function checkTexts(texts: Programs, sheet: object, options?: CheckOptions): CheckResult {
  const document = readSheet(`${FOLDER}job.jobsheet.json`, JSON.stringify(sheet))
  const dialect = document.sheet?.machine.dialect
  const programs = new Map(
    Object.entries(texts).map(([name, text]) => [
      FOLDER + name,
      readProgram(new TextEncoder().encode(text), { dialect }),
    ]),
  )
  const job = runJob({ document, programs }, memo)
  if (!job) throw new Error(`no job could be made of the sheet: ${JSON.stringify(document.problems, undefined, 1)}`)
  return checkJob(job, options)
}

/** Checks marked programs in a job: every mark must be found exactly, and nothing else in those programs. */
export function expectJob(marked: Programs, sheet: object, wishes: Wishes = {}): CheckResult {
  const read = Object.entries(marked).map(([name, text]) => [name, readMarks(FOLDER + name, text)] as const)
  const result = checkTexts(Object.fromEntries(read.map(([name, { text }]) => [name, text])), sheet, wishes.options)
  compare(
    result.findings.filter(finding => read.some(([name]) => finding.file === FOLDER + name)),
    read.flatMap(([, { expected }]) => expected),
    wishes,
  )
  return result
}

/** A 6 mm flat bit as a desktop router has it. */
export const FLAT_6 = {
  name: '6 mm flat',
  shape: 'flat',
  diameter: 6,
  spiral: 'up',
  flutes: 2,
  cuttingLength: 22,
  stickout: 32,
  shankDiameter: 6,
  colletDiameter: 20,
  maxPassDepth: 4,
  chipLoad: [0.03, 0.12],
  maxPlungeFeed: 300,
}

/** A 25 mm bowl bit that does not cut at its centre. */
export const BOWL_25 = {
  ...FLAT_6,
  name: '25 mm bowl',
  shape: 'bowl',
  diameter: 25,
  cornerRadius: 6,
  shankDiameter: 8,
  maxPassDepth: 3,
  maxPlungeFeed: 500,
  chipLoad: [0.03, 0.15],
}

/** A small job of one program, `part.nc`, on a blank of 100 x 80 x 20; anything in it can be replaced. */
export function sheetWith(
  changes: { machine?: object; bits?: object; setup?: object; blank?: object; rest?: object } = {},
): object {
  return {
    bits: changes.bits ?? { 1: FLAT_6 },
    blanks: { board: { size: [100, 80, 20], material: 'maple, sugar', ...changes.blank } },
    setups: [{ name: 'part', blank: 'board', face: 'top', program: 'part.nc', makes: 'other', ...changes.setup }],
    ...(changes.machine && { machine: changes.machine }),
    ...changes.rest,
  }
}

/** `expectJob` for the one program of `sheetWith`. */
export function expectPart(
  marked: string,
  changes: Parameters<typeof sheetWith>[0] = {},
  wishes: Wishes = {},
): CheckResult {
  return expectJob({ 'part.nc': marked }, sheetWith(changes), wishes)
}
