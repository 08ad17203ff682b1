import { readFileSync } from 'node:fs'
import { describe, expect, test } from 'vitest'
import { readProgram } from '../../server/src/machine/readProgram.ts'
import { checkProgram } from '../../server/src/rules/checkProgram.ts'
import { makeVariedJob } from './jobs.ts'
import { alarms, sayOf } from './measure.ts'
import { Chance } from './random.ts'

/**
 * Programs that others wrote, without a sheet: what is said of them is true of their text, each held here against the
 * text itself by plain expressions; and nothing else is said.
 */
const TRUE_OF_THE_TEXT: Readonly<Record<string, (text: string) => boolean>> = {
  'program/no-units': text => !/G2[01]\b/i.test(text),
  'program/no-end': text => !/M0*(2|30)\b/i.test(text),
  'feed/missing': text => {
    const [untilCut] = /^[\s\S]*?G0*[123]\b[^\n]*/i.exec(text) ?? []
    return untilCut !== undefined && !/F[\d.]/i.test(untilCut)
  },
  'motion/unsafe-start': text => {
    const [, before] = /^([\s\S]*?)[XY][-\d#[.]/i.exec(text) ?? []
    return before !== undefined && !/Z[-\d#[.]/i.test(before)
  },
  // Compensation with a bit that no word and no sheet measures.
  'program/not-simulated': text => /G4[12]\b/i.test(text),
}

/** Comments say nothing to the machine. */
const words = (text: string): string => text.replace(/\([^)]*\)/g, '').replace(/;.*$/gm, '')

const at = (name: string): URL => new URL(`../../${name}`, import.meta.url)

function codesOf(text: string): string[] {
  const program = readProgram(new TextEncoder().encode(text))
  return checkProgram('file:///lone.nc', program, {}).findings.map(finding => finding.code)
}

describe("the standard's own programs", () => {
  test.each([
    'nist6556-C1-hello.ngc',
    'nist6556-C2-expressions.ngc',
    'nist6556-C3-cycles.ngc',
    'nist6556-Table12-comp-material-edge.ngc',
    'nist6556-Table13-comp-nominal-path.ngc',
  ])('%s: all that is said is true of its text', name => {
    const text = readFileSync(at(`tests/conformance/programs/${name}`), 'utf8')
    for (const code of codesOf(text)) expect(TRUE_OF_THE_TEXT[code]?.(words(text)), code).toBe(true)
  })
})

test('the programs of the clean samples, taken out of their sheets, are met with silence', () => {
  for (const job of ['crescent-tray', 'fern-dish'])
    for (const name of ['pocket', 'level', 'cavity', 'outline'])
      expect(codesOf(readFileSync(at(`samples/${job}/${name}.nc`), 'utf8')), `${job}/${name}`).toEqual([])
})

test('a well-formed program is met with silence however it is written', () => {
  const plain = 'G21 G90 G17\nG0 Z5\nG0 X1 Y2\nG1 Z-1 F300\nG3 X-1 I-1\nG0 Z5\nM30\n'
  const ways = [
    plain.toLowerCase(),
    plain.replaceAll(' ', ''),
    plain.replaceAll('\n', '\r\n'),
    `%\n${plain}%\n`,
    plain.replace(/^/gm, 'N10 ').replace(/N10 $/, ''),
    plain.replace(/\bG(\d)\b/g, 'G0$1'),
    `; made by hand\n(no sheet)\n${plain}`,
  ]
  for (const way of ways) expect(codesOf(way), way).toEqual([])
})

const SEED = Number(process.env.FAULTS_SEED ?? 9)

test(`good jobs are met with silence in whatever hand they are written (seed ${SEED})`, async () => {
  const chance = new Chance(SEED)
  for (let index = 0; index < 2; index++) {
    const job = makeVariedJob(index, chance)
    const found = alarms(await sayOf(job.files, job.sheet)).map(({ code, file, range, message }) => {
      return `${job.name} ${file} ${range.start.line + 1}: ${code} ${message}`
    })
    expect(found).toEqual([])
  }
}, 60_000)
