import { readFileSync } from 'node:fs'
import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { checkUnit } from '../../../server/src/features/check.ts'
import { resume } from '../../../server/src/features/resume/resume.ts'
import type { Run } from '../../../server/src/job/outcome.ts'
import type { KeepOut, Sheet } from '../../../server/src/job/sheet.ts'
import { ALL_RULES } from '../../../server/src/rules/all.ts'
import { carved } from '../../../server/src/stock/carve.ts'
import { memoryWorkspace } from '../../job/memoryWorkspace.ts'
import { read, SEED, samplePrograms, source } from '../rewrites/bench.ts'
import { SETTINGS } from '../sheet/bench.ts'

const FILE = 'file:///job/a.nc'
const text = `(blank: 60 x 40 x 14 mm, zero near-left face)
(bit 1: flat 6 mm, 2 flutes, cutting length 22, chip load 0.02-0.06)
G21 G90 G17 G64
T1 M6
S16000 M3
G4 P2
M8
G0 Z10
G0 X10 Y10
Z1
G1 Z-2 F250
X50 F1200
Y30
G2 X40 Y20 R10
X30 Y30 R10
G0 Z5
G81 X10 Y35 Z-3 R2 F200
X20
G80
G0 Z10
M9
M5
M2
`
async function resumed(program: string, line: number) {
  const { outcome } = await checkUnit(memoryWorkspace({ 'a.nc': program }), FILE, SETTINGS)
  const run = outcome!.copies[0].setups[0].run!
  return resume(source(program), run, line, outcome!.sheet, 'a.nc')
}

describe('start again from a line', () => {
  test('puts back what the machine remembered, lifts, travels, comes down where the bit has been, and goes on', async () => {
    expect(await resumed(text, 12)).toEqual({
      text: `(start again at line 13 of a.nc)
G21 G90 G17 G64 G94
T1 M6
S16000 M3
G4 P2
M8
G0 Z1.5
X50 Y10
Z1
G1 Z-2 F280
F1200
G1 Y30
${text.split('\n').slice(13).join('\n')}`,
      notes: ['It travels at Z1.5 and comes down at X50 Y10, where the bit has been.'],
    })
  })

  test('with the code of an arc, and with the words that a cycle keeps', async () => {
    const arc = await resumed(text, 14)
    expect('text' in arc && arc.text).toContain('\nF1200\nG2 X30 Y30 R10\nG0 Z5\n')
    const drill = await resumed(text, 17)
    expect('text' in drill && drill.text).toContain('\nG0 Z5\nX10 Y35\nF200\nG81 X20 Z-3 R2\nG80\n')
  })

  test('of a line that moves nothing, from the next that does; straight down into wood along the next move', async () => {
    const at = await resumed(text, 10)
    expect(await resumed(text, 9)).not.toEqual(at)
    expect('text' in at && at.text).toContain('\nX10 Y10\nZ1\nG1 Z0.1 F250\nX50 Z-0.95\nX10 Z-2\nX50 F1200\n')
    expect('notes' in at && at.notes[1]).toBe(
      'Come down along the next move and back, 2 times at 1.5 degrees, instead of straight down.',
    )
  })

  test('of what only brings the bit there, from where it stands', async () => {
    const at = await resumed(text, 7)
    expect('notes' in at && at.notes[0]).toBe(
      'What line 8 moves only brings the bit to line 10, with which it goes on.',
    )
  })

  test('with the feed of inverse time on the lines that have it alone', async () => {
    const inverse = text.replace('X50 F1200\nY30\n', 'G93 X50 F30\nY30 F40\nG94 F1200\n')
    const at = await resumed(inverse, 12)
    expect('text' in at && at.text).toContain('\nG1 Z-2 F280\nG93\nG1 Y30 F40\nG94 F1200\nG2')
    const after = await resumed(inverse, 14)
    expect('text' in after && after.text).toContain('\nG1 Z-2 F280\nF1200\nG2 X40')
  })

  test('names the place as G92 has named it, once the bit stands there', async () => {
    const moved = text.replace('X50 F1200\nY30', 'G92 X0 Y0 Z-1\nX40 F1200\nY20').replace('X40 Y20 R10', 'X30 Y10 R10')
    const program = moved
      .replace('X30 Y30 R10', 'X20 Y20 R10')
      .replace('X10 Y35 Z-3', 'X0 Y25 Z-2')
      .replace('\nX20\n', '\nX10\n')
    const at = await resumed(program, 13)
    expect('why' in at ? at.why : at.text).toContain(
      'of a.nc)\nG92.1\nG21 G90 G17 G64 G94\nT1 M6\nS16000 M3\nG4 P2\nM8\nG0 Z1.5\nX50 Y10\nG92 X40 Y0 Z2.5\nG0\nZ2\nG1 Z-1 F280\nF1200\nG1 Y20\n',
    )
  })

  test('comes up to a path anew where the bit runs beside it', async () => {
    const beside = text
      .replace('X50 F1200\nY30', 'G41 D1 X20 Y12 F1200\nX50\nY30')
      .replace('G0 Z5', 'G40 G1 X45\nG0 Z5')
    const program = beside.replace('X30 Y30 R10', 'Y35').replace('G2 X40 Y20 R10', 'X40')
    const at = await resumed(program, 13)
    expect('why' in at ? at.why : at.notes[0]).toBe(
      'On line 14 the bit runs beside its path, where nothing can begin: it goes on with line 12, which comes up to that path.',
    )
    expect('text' in at && at.text).toContain('\nX10 Y10\nZ1\nG1 Z-2 F280\nF250\nG1 G41 D1 X20 Y12 F1200\nX50\n')
    // Called for on a line of its own, it is called for again where the bit stands.
    const apart = await resumed(program.replace('G41 D1 X20', 'G41 D1\nX20'), 14)
    expect('why' in apart ? apart.why : apart.text).toContain('\nG1 Z-2 F280\nG41 D1\nF250\nG1 X20 Y12 F1200\n')
    const off = await resumed(program, 16)
    expect('notes' in off && off.notes.length).toBe(1)
  })

  test('keeps a bit that waits for its change, the speed of a spindle that stands, and what is not G', async () => {
    const two = text
      .replace('G21', '(bit 2: flat 6 mm, 2 flutes, cutting length 22, chip load 0.02-0.06)\nG21')
      .replace('M8', 'M8\nM8\nM49\nT2')
      .replace('G0 Z5', 'G0 Z5\nM5\nM6\nM3')
    const at = await resumed(two, 16)
    expect('why' in at ? at.why : at.text).toContain('G21 G90 G17 G64 M49 G94\nT1 M6\nT2\nS16000 M3\nG4 P2\nM8\nG0')
    const still = two.replace('M6\nM3\nG81', 'M6\nG0 X10 Y35\nM3\nG81')
    const later = await resumed(still, 21)
    expect('why' in later ? later.why : later.text).toContain('\nT2 M6\nS16000\nM8\n')
  })

  describe('where lines are called or repeated', () => {
    const called = `${text.split('\n').slice(0, 7).join('\n')}
#101=-1
o100 sub
G1 Z[#101] F250
X50 F1200
o100 endsub
G0 Z10
G0 X10 Y10
Z1
o100 call
#101=-2
G0 Z5
G0 X10 Y20
Z1
o100 call
o101 repeat [2]
G91
Y4
X-4
o101 endrepeat
G90
G1 Y35
G0 Z10
M5
M2
`
    test('from the line of a call, or after it, with what it calls and the values it goes by', async () => {
      const at = await resumed(called, 20)
      expect('why' in at ? at.why : at.text).toContain(
        'M8\n#101=-1\n#101=-2\no100 sub\nG1 Z[#101] F250\nX50 F1200\no100 endsub\nG0 Z1.5\nX10 Y20\nZ1\nF1200\no100 call\n',
      )
      const after = await resumed(called, 27)
      expect('why' in after ? after.why : after.text).toContain('\nX42 Y28\nZ1\nG1 Z-2 F280\nF1200\nG1 Y35\nG0 Z10\n')
    })

    test.each([
      [10, 'Line 11 belongs to a subprogram: start again from line 16 or 21, where it is called.'],
      [23, 'Line 24 is obeyed from line 22, where REPEAT begins, and maybe more than once: start again from line 22.'],
    ])('not from within, but it says from where (%i)', async (line, why) => {
      expect(await resumed(called, line)).toEqual({ why })
    })

    test('M98 as well', async () => {
      const program = `${called.slice(0, called.indexOf('#101=-1'))}G0 Z10\nX10 Y10\nZ1\nM98 P200\nG0 Z5\nX10 Y20\nM98 P200\nG0 Z10\nM5\nM2\nO200\nG1 Z-1 F250\nX50 F1200\nM99\n`
      expect(await resumed(program, 18)).toEqual({
        why: 'Line 19 belongs to a subprogram: start again from line 11 or 14, where it is called.',
      })
      const at = await resumed(program, 11)
      expect('why' in at ? at.why : at.text).toContain('\nX50 Y10\nZ1\nG1 Z-1 F280\nF1200\nG0 Z5\nX10 Y20\nM98 P200\n')
    })
  })

  test('over clamps', async () => {
    const { outcome } = await checkUnit(memoryWorkspace({ 'a.nc': text }), FILE, SETTINGS)
    const run = outcome!.copies[0].setups[0].run!
    const keepOut: KeepOut[] = [
      {
        setup: run.setup.name,
        box: [
          [0, 30],
          [8, 40],
        ],
        height: 12,
      },
    ]
    const sheet = { ...outcome!.sheet, keepOut }
    const at = resume(source(text), run, 12, sheet, 'a.nc')
    expect('why' in at ? at.why : at.text).toContain('\nG0 Z13.5\nX50 Y10\nZ1\n')
  })

  test.each([
    [
      'the start is not known',
      text.replace('G0 Z10\nG0 X10 Y10\nZ1', 'G0 X-5 Y10').replace('Z-2', 'X0'),
      7,
      'Where the bit stands before line 8 is not known',
    ],
    ['nothing is left', text, 21, 'No line from here on moves anything'],
    ['the zero was moved', text.replace('M8', 'G92 Z20'), 12, 'Line 7 moves the zero'],
    [
      'a drilling cycle goes by distances',
      text.replace('G81 X10 Y35 Z-3 R2 F200\nX20', 'G0 X0 Y35\nG91 G81 X10 Z-6 R-3 F200\nX10'),
      18,
      'Line 19 is a drilling cycle in distances',
    ],
  ])('not where %s', async (_what, program, line, why) => {
    const result = await resumed(program, line)
    expect('why' in result ? result.why : result.text).toContain(why)
  })

  test(`from any line of the samples: what is left is the same, and nothing is found that was not (seed ${SEED})`, async () => {
    let given = 0
    const name = 'crescent-tray.jobsheet.json'
    const folder = samplePrograms().filter(([file]) => file.startsWith('crescent-tray/'))
    const files = Object.fromEntries(folder.map(([file, program]) => [file.split('/')[1], program]))
    const sheetText = readFileSync(new URL(`../../../samples/crescent-tray/${name}`, import.meta.url), 'utf8')
    const job = await checkUnit(memoryWorkspace({ ...files, [name]: sheetText }), `file:///job/${name}`, SETTINGS)
    const coaster = samplePrograms().find(([file]) => file.includes('coaster'))![1]
    const alone = await checkUnit(memoryWorkspace({ 'a.nc': coaster }), FILE, SETTINGS)
    for (const { outcome } of [job, alone]) {
      const { sheet, copies } = outcome!
      for (const run of copies[0].setups.flatMap(setup => setup.run ?? [])) {
        const program = files[run.setup.program.split('/').at(-1)!] ?? coaster
        const { count, line: lines } = run.program.motions
        const motions = fc.sample(fc.integer({ min: 1, max: count - 2 }), { seed: SEED, numRuns: 1 })
        for (const line of motions.map(i => lines[i])) {
          const result = resume(source(program), run, line, sheet, 'a.nc')
          expect('why' in result ? `${run.setup.name} ${line}: ${result.why}` : '').toBe('')
          if (!('text' in result)) continue
          const again = replayed(run, line, result.text, sheet)
          expect(heightsApart(run.after, again.after), `${run.setup.name} ${line}`).toBeLessThan(1e-3)
          const known = codesOf(run, sheet)
          expect([...codesOf(again, sheet)].filter(code => !known.has(code))).toEqual([])
          given++
        }
      }
    }
    expect(given).toBeGreaterThan(3)
  }, 30_000)
})

/** Runs a text in the wood as it stands before the first motion from a line on. */
function replayed(run: Run, line: number, text: string, sheet: Sheet): Run {
  const { motions } = run.program
  const to = motions.line.findIndex(each => each >= line)
  const before = carved(run.before, motions, { shift: run.shift, bitOfState: run.bitOfState, to }).stock
  const program = read(text)
  const bitOfState = program.states.map(({ tool }) => sheet.bits.get(tool ?? run.bitOfState[0]!.number))
  const { stock: after, engagement } = carved(before, program.motions, { shift: run.shift, bitOfState })
  return { ...run, program, bitOfState, before, after, engagement }
}

/** Most by which the wood of a column differs, mm. */
function heightsApart(one: Run['after'], other: Run['after']): number {
  const solid = ({ layers }: Run['after']) =>
    Array.from(layers[0].hi, (_, k) => layers.reduce((sum, { lo, hi }) => sum + Math.max(0, hi[k] - lo[k]), 0))
  const there = solid(other)
  return solid(one).reduce((most, value, k) => Math.max(most, Math.abs(value - there[k])), 0)
}

function codesOf(run: Run, sheet: Sheet): Set<string> {
  const codes = new Set<string>()
  for (const rule of ALL_RULES) if (rule.reads === 'run') rule.check(run, sheet, () => codes.add(rule.id))
  return codes
}
