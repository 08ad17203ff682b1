import { expect } from 'vitest'
import { readSheet } from '../../server/src/job/readSheet.ts'
import { runJob } from '../../server/src/job/runJob.ts'
import { readProgram } from '../../server/src/machine/readProgram.ts'
import { checkJob } from '../../server/src/rules/checkJob.ts'
import { checkProgram } from '../../server/src/rules/checkProgram.ts'
import type { CheckOptions, CheckResult, Finding } from '../../server/src/rules/rule.ts'

/** A folder in memory: programs by name, each perhaps with findings written under its lines. */
export type Programs = Readonly<Record<string, string>>

interface Expected {
  readonly file: string
  readonly line: number
  readonly start: number
  readonly end: number
  readonly code: string
  readonly part: string
}

/** A mark under a line: `//   ^^^ code: part of the message`; `//<^^` for words that begin in the first column. */
const MARK = /^\/\/(<?)(\s*)(\^+)\s+(\S+?)(?::\s*(.*))?$/

/** Takes the marks out of a text and says what they expect. */
export function readMarks(file: string, marked: string): { text: string; expected: Expected[] } {
  const lines: string[] = []
  const expected: Expected[] = []
  for (const line of dedent(marked)) {
    const mark = MARK.exec(line)
    if (!mark) {
      if (line.startsWith('//')) throw new Error(`a mark that cannot be read: ${line}`)
      lines.push(line)
      continue
    }
    const start = mark[1] === '<' ? 0 : line.indexOf('^')
    expected.push({
      file,
      line: lines.length - 1,
      start,
      end: start + mark[3].length,
      code: mark[4],
      part: mark[5] ?? '',
    })
  }
  return { text: lines.join('\n'), expected }
}

function dedent(text: string): string[] {
  const lines = text.replace(/^\n/, '').trimEnd().split('\n')
  const indents = lines.filter(line => line.trim() !== '').map(line => line.length - line.trimStart().length)
  const indent = Math.min(...indents)
  return lines.map(line => line.slice(indent))
}

const FOLDER = 'file:///work/'

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
  const job = runJob({ document, programs })
  if (!job) throw new Error(`no job could be made of the sheet: ${JSON.stringify(document.problems, undefined, 1)}`)
  return checkJob(job, options)
}

export interface Wishes {
  readonly options?: CheckOptions
  /** Codes whose findings are not looked at in this test. */
  readonly ignore?: readonly string[]
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

/** Checks one marked program by its text alone. */
export function expectText(marked: string, wishes: Wishes & { dialect?: string } = {}): CheckResult {
  const file = `${FOLDER}program.nc`
  const { text, expected } = readMarks(file, marked)
  const base = (wishes.dialect ?? 'rs274ngc') as 'rs274ngc'
  const program = readProgram(new TextEncoder().encode(text), { dialect: { base, add: [], remove: [] } })
  const result = checkProgram(file, program, wishes.options)
  compare(result.findings, expected, wishes)
  return result
}

function compare(findings: readonly Finding[], expected: readonly Expected[], wishes: Wishes): void {
  const looked = findings.filter(finding => !wishes.ignore?.includes(finding.code))
  const place = (file: string, line: number, start: number, end: number, code: string) =>
    `${file.slice(FOLDER.length)}:${line + 1}:${start}-${end} ${code}`
  const found = looked.map(({ file, range: { start, end }, code }) =>
    place(file, start.line, start.character, end.character, code),
  )
  const wanted = expected.map(({ file, line, start, end, code }) => place(file, line, start, end, code))
  const messages = looked.map(({ code, message }) => `${code}: ${message}`).join('\n')
  expect(found.sort(), messages).toEqual(wanted.sort())
  for (const { file, line, code, part } of expected) {
    const at = looked.filter(
      finding => finding.file === file && finding.code === code && finding.range.start.line === line,
    )
    expect(at.map(finding => finding.message).join('\n')).toContain(part)
  }
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
