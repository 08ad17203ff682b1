import { execFile } from 'node:child_process'
import { mkdir, mkdtemp, rm, writeFile } from 'node:fs/promises'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { fileURLToPath } from 'node:url'
import sarifSchema from '@microsoft/jest-sarif/lib/schemas/sarif-2.1.0-rtm.5.json' with { type: 'json' }
import { Ajv2020 } from 'ajv/dist/2020.js'
import Ajv from 'ajv-draft-04'
import { afterAll, beforeAll, describe, expect, it } from 'vitest'

const cli = fileURLToPath(new URL('../../dist/cli.cjs', import.meta.url))
let folder: string

interface Outcome {
  readonly code: number
  readonly out: string
  readonly err: string
}

/** Runs the command as a person does, in the test's folder. */
function treen(...args: string[]): Promise<Outcome> {
  return fed('', ...args)
}

/** The same with a text through standard input. */
function fed(input: string, ...args: string[]): Promise<Outcome> {
  return new Promise(resolve => {
    const options = { cwd: folder, maxBuffer: 1 << 28 }
    const child = execFile(process.execPath, [cli, ...args], options, (error, out, err) => {
      resolve({ code: error ? Number(error.code) : 0, out, err })
    })
    child.stdin?.end(input)
  })
}

/** Writes files into a new folder below the test's own and gives its name. */
async function place(name: string, files: Record<string, string | Uint8Array>): Promise<string> {
  await mkdir(join(folder, name), { recursive: true })
  for (const [file, content] of Object.entries(files)) await writeFile(join(folder, name, file), content)
  return name
}

const good = `(blank: 60 x 40 x 12 mm, zero near-left face)
(bit 1: flat 6 mm, 2 flutes, cutting length 22, chip load 0.02-0.12)
G21 G90 G17
T1
S16000 M3
G0 Z5
G0 X10 Y20
G1 Z0 F300
G1 X30 Z-1 F1200
X10
G0 Z5
M5
M30
`

const bad = good.replace('G0 X10 Y20', 'G0 X10 Y20 Z-4')

const sheet = (blank: object, bit: object = {}) =>
  JSON.stringify({
    bits: { 1: { shape: 'flat', diameter: 6, flutes: 2, cuttingLength: 22, ...bit } },
    blanks: { board: { size: [60, 40, 12], material: 'maple, sugar', ...blank } },
    setups: [{ name: 'only', blank: 'board', face: 'top', program: 'a.nc', makes: 'other' }],
  })

beforeAll(async () => {
  folder = await mkdtemp(join(tmpdir(), 'treen-cli-'))
})
afterAll(() => rm(folder, { recursive: true, force: true }))

describe('treen check: exit codes and formats', () => {
  it('exits 0 on good work and says so', async () => {
    await place('good', { 'a.nc': good })
    const { code, out, err } = await treen('check', 'good/a.nc')
    expect(err).toBe('')
    expect(out).toContain('nothing found')
    expect(code).toBe(0)
  })

  it('exits 1 on an error, shows the line and underlines the words', async () => {
    await place('bad', { 'a.nc': bad })
    const { code, out } = await treen('check', 'bad/a.nc')
    expect(code).toBe(1)
    expect(out).toContain('plunge/rapid')
    expect(out).toContain('G0 X10 Y20 Z-4')
    expect(out).toMatch(/▔▔▔/)
    // No colour when not a terminal.
    expect(out).not.toContain('\u001b[')
  })

  it('exits 0 on the same work with --fail-on never', async () => {
    await place('bad', { 'a.nc': bad })
    expect((await treen('check', 'bad/a.nc', '--fail-on', 'never')).code).toBe(0)
  })

  it('prints one JSON object by the contract', async () => {
    await place('bad', { 'a.nc': bad })
    const { code, out } = await treen('check', 'bad/a.nc', '--format', 'json')
    expect(code).toBe(1)
    const report = JSON.parse(out)
    expect(report.version).toBe(1)
    expect(report.findings[0]).toMatchObject({ file: 'bad/a.nc', severity: 'error' })
    expect(report.findings[0].range.start).toHaveProperty('character')
    expect(report.programs[0].extents.cut).toEqual([
      [10, 20, -4],
      [30, 20, 0],
    ])
  })

  it('prints a SARIF log that the published schema accepts', async () => {
    await place('sarif', { 'a.nc': bad.replace('M30', '(allow motion/unsafe-start: none here)\nM30') })
    const { code, out } = await treen('check', 'sarif/a.nc', '--format', 'sarif')
    expect(code).toBe(1)
    const log = JSON.parse(out)
    // OASIS SARIF 2.1.0, as its schema is published with rtm.5; formats are not checked.
    const valid = new Ajv({ strict: false, validateFormats: false, unicodeRegExp: false }).compile(sarifSchema)
    expect(valid(log), JSON.stringify(valid.errors)).toBe(true)
    const [run] = log.runs
    const [result] = run.results
    expect(run.tool.driver.rules[result.ruleIndex].id).toBe(result.ruleId)
    expect(run.tool.driver.rules[result.ruleIndex].help.text.length).toBeGreaterThan(200)
    const { region } = result.locations[0].physicalLocation
    const line = bad.split('\n')[region.startLine - 1]
    expect(line.slice(region.startColumn - 1, region.endColumn - 1)).toBe('Z-4')
  })

  it('says what would mend a finding: titles in JSON, replacements in SARIF that do mend it', async () => {
    const still = good.replace('M3', '')
    await place('mended', { 'a.nc': still })
    const json = JSON.parse((await treen('check', 'mended/a.nc', '--format', 'json')).out)
    const offered = json.findings.find(({ code }: { code: string }) => code === 'spindle/stopped').fixes
    expect(offered.length).toBeGreaterThan(0)
    const log = JSON.parse((await treen('check', 'mended/a.nc', '--format', 'sarif')).out)
    const [fix] = log.runs[0].results.find(({ ruleId }: { ruleId: string }) => ruleId === 'spindle/stopped').fixes
    expect(offered).toContain(fix.description.text)
    const lines = still.split('\n')
    for (const { deletedRegion: at, insertedContent } of fix.artifactChanges[0].replacements.reverse()) {
      const [first, last] = [lines[at.startLine - 1], lines[at.endLine - 1]]
      const merged = first.slice(0, at.startColumn - 1) + insertedContent.text + last.slice(at.endColumn - 1)
      lines.splice(at.startLine - 1, at.endLine - at.startLine + 1, ...merged.split('\n'))
    }
    await place('mended', { 'a.nc': lines.join('\n') })
    expect((await treen('check', 'mended/a.nc', '--format', 'json')).out).not.toContain('spindle/stopped')
    await place('without', { 'a.nc': still })
    const without = await treen('check', 'without/a.nc', '--format', 'json', '--no-fixes')
    expect(JSON.parse(without.out).findings[0].fixes).toEqual([])
  })

  it('checks a whole folder', async () => {
    await place('folder', { 'a.nc': good, 'b.nc': good })
    const { code, out } = await treen('check', 'folder')
    expect(code).toBe(0)
    expect(out).toContain('2 programs')
  })
})

describe('treen check: a line for each finding', () => {
  it('names file, line, column, severity and code, as a problem matcher reads them', async () => {
    await place('lines', { 'a.nc': bad })
    const { code, out } = await treen('check', 'lines', '--format', 'lines')
    expect(code).toBe(1)
    expect(out).toMatch(/^lines\/a\.nc:7:12: error: .+ \[plunge\/rapid\]$/m)
    expect(out.trimEnd().split('\n').length).toBe(out.match(/\]$/gm)?.length)
  })
})

describe('treen check: patterns', () => {
  it('takes all files that fit, at any depth, and says when none does', async () => {
    await place('many', { 'a.nc': good, 'b.NGC': good, 'notes.txt': 'none of ours' })
    await place('many/below', { 'c.nc': good })
    expect((await treen('check', 'many/**/*.nc')).out).toContain('2 programs')
    expect((await treen('check', 'many')).out).toContain('3 programs')
    const { code, err } = await treen('check', 'many/*.tap')
    expect(code).toBe(2)
    expect(err).toMatch(/many\/\*\.tap: no file fits/)
  })

  it('takes a file whose own name looks like a pattern', async () => {
    await place('odd', { 'a[1].nc': good, '(b).nc': good })
    expect((await treen('check', 'odd/a[1].nc', 'odd/(b).nc')).out).toContain('2 programs')
  })
})

describe('treen check: standard input', () => {
  it('takes a program that no file holds', async () => {
    const { code, out } = await fed(bad, 'check', '-', '--format', 'lines')
    expect(code).toBe(1)
    expect(out).toMatch(/^standard-input\.nc:7:12: error/)
  })

  it('takes the place of a file in its job', async () => {
    await place('draft', { 'job.jobsheet.json': sheet({}), 'a.nc': good })
    expect((await fed(good, 'check', '-', '--as', 'draft/a.nc', '--fail-on', 'error')).code).toBe(0)
    const { out } = await fed(bad, 'check', '-', '--as', 'draft/a.nc', '--format', 'json')
    const found = JSON.parse(out).findings.find(({ code }: { code: string }) => code === 'plunge/rapid')
    expect(found).toMatchObject({ file: 'draft/a.nc', sheet: 'draft/job.jobsheet.json', setup: 'only' })
  })

  it('says that a name alone leads nowhere', async () => {
    const { code, err } = await treen('check', '.', '--as', 'a.nc')
    expect(code).toBe(2)
    expect(err).toContain('standard input')
  })
})

describe('treen schema', () => {
  const samples = fileURLToPath(new URL('../../samples', import.meta.url))

  it.each(['fern-dish-first-draft', 'crescent-tray', 'single-program'])('describes the report of %s', async name => {
    const schema = JSON.parse((await treen('schema', 'report')).out)
    const valid = new Ajv2020({ strict: false }).compile(schema)
    const report = JSON.parse((await treen('check', join(samples, name), '--format', 'json', '--no-fixes')).out)
    expect(valid(report), JSON.stringify(valid.errors)).toBe(true)
    // The description is no empty one.
    expect(valid({ ...report, programs: [{ ...report.programs[0], lines: 'many' }] })).toBe(false)
    expect(valid({ ...report, more: 1 })).toBe(false)
  })

  it('describes a job sheet', async () => {
    const schema = JSON.parse((await treen('schema', 'sheet')).out)
    expect(schema.properties).toHaveProperty('setups')
  })
})

describe('treen --help', () => {
  it.each(['check', 'preview', 'sheet', 'schema'])('teaches %s by example', async name => {
    const { code, out } = await treen(name, '--help')
    expect(code).toBe(0)
    expect(out).toMatch(new RegExp(`Examples:\n  treen ${name} `))
  })
})

describe('treen check: bad use and unreadable input', () => {
  it.each([
    [['check'], /path/],
    [['check', 'nothing-here.nc'], /nothing-here\.nc.*no such file/],
    [['check', '.', '--format', 'sonnet'], /format/],
    [['carve', 'a.nc'], /carve/],
  ])('%j: one line, exit code 2', async (args, line) => {
    const { code, out, err } = await treen(...args)
    expect(code).toBe(2)
    expect(out).toBe('')
    expect(err.trim().split('\n').length).toBe(1)
    expect(err).toMatch(line)
  })

  it('an empty folder', async () => {
    await place('empty', {})
    const { code, err } = await treen('check', 'empty')
    expect(code).toBe(2)
    expect(err).toMatch(/empty: .*no program/)
  })

  it('a binary file', async () => {
    await place('binary', { 'a.nc': Uint8Array.from({ length: 4096 }, (_, i) => (i * 37) % 256) })
    const { code, err } = await treen('check', 'binary/a.nc')
    expect(code).toBe(2)
    expect(err.trim().split('\n').length).toBe(1)
    expect(err).toMatch(/binary\/a\.nc: .*not.*text/)
  })

  it('an empty program', async () => {
    await place('nothing', { 'a.nc': '' })
    const { code, err } = await treen('check', 'nothing/a.nc')
    expect(err).toBe('')
    expect([0, 1]).toContain(code)
  })

  it('a line of 200,000 characters', async () => {
    await place('long', { 'a.nc': `G21 G90\nG1 X1 F100 ${'Y1 '.repeat(66_000)}\nM30\n` })
    const { code, out } = await treen('check', 'long/a.nc')
    expect(code).toBe(1)
    expect(out).toContain('syntax/')
    // The report stays readable.
    expect(Math.max(...out.split('\n').map(line => line.length))).toBeLessThan(400)
  })

  it('a sheet whose program is missing: a finding at the field', async () => {
    await place('lost', { 'job.jobsheet.json': sheet({}) })
    const { code, out } = await treen('check', 'lost')
    expect(code).toBe(1)
    expect(out).toContain('sheet/missing-file')
    expect(out).toContain('a.nc')
  })

  it.each([
    ['zero-size blank', { size: [0, 40, 12] }, {}],
    ['negative diameter', {}, { diameter: -6 }],
    ['1e99', { size: [1e99, 40, 12] }, {}],
    ['text for a number', { size: ['wide', 40, 12] }, {}],
  ])('%s: a finding of the sheet, never a crash', async (_, blank, bit) => {
    await place('numbers', { 'job.jobsheet.json': sheet(blank, bit), 'a.nc': good })
    const { code, out, err } = await treen('check', 'numbers/job.jobsheet.json')
    expect(err).toBe('')
    expect(code).toBe(1)
    expect(out).toContain('sheet/bad-number')
  })

  it('a sheet that is no JSON at all', async () => {
    await place('text', { 'job.jobsheet.json': 'dear diary' })
    const { code, out } = await treen('check', 'text')
    expect(code).toBe(1)
    expect(out).toContain('sheet/')
  })

  it('NaN in a sheet', async () => {
    await place('nan', { 'job.jobsheet.json': sheet({}).replace('[60,40,12]', '[NaN,40,12]'), 'a.nc': good })
    const { code, out } = await treen('check', 'nan')
    expect(code).toBe(1)
    expect(out).toContain('sheet/')
  })
})
