import { expect } from 'vitest'
import { readProgram } from '../../server/src/machine/readProgram.ts'
import { checkProgram } from '../../server/src/rules/checkProgram.ts'
import type { CheckOptions, CheckResult, Finding } from '../../server/src/rules/rule.ts'

export interface Expected {
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

/** Where the programs of a test stand. */
export const FOLDER = 'file:///shop/'

export interface Wishes {
  readonly options?: CheckOptions
  /** Codes whose findings are not looked at in this test. */
  readonly ignore?: readonly string[]
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

/** Every mark found exactly, and nothing else. */
export function compare(findings: readonly Finding[], expected: readonly Expected[], wishes: Wishes): void {
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
