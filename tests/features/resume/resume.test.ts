import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { checkUnit } from '../../../server/src/features/check.ts'
import { resume } from '../../../server/src/features/resume/resume.ts'
import { memoryWorkspace } from '../../job/memoryWorkspace.ts'
import { SEED, samplePrograms, source } from '../rewrites/bench.ts'
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
  return resume(source(program), run, line, 1.5, 'a.nc')
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
G1 Z-2 F288
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

  test('of a line that moves nothing, from the next that does', async () => {
    const at = await resumed(text, 10)
    expect(await resumed(text, 9)).not.toEqual(at)
    expect('text' in at && at.text).toContain('Z1\nG1 Z-2 F250\nX50 F1200')
  })

  test.each([
    ['the start is not known', text, 7, 'Where the bit stands before line 8 is not known'],
    ['nothing is left', text, 21, 'No line from here on moves anything'],
    ['the zero was moved', text.replace('M8', 'G92 Z20'), 12, 'Line 7 moves the zero'],
    [
      'lines are obeyed from elsewhere',
      text.replace('M8', 'o1 repeat [2]').replace('M9', 'o1 endrepeat'),
      12,
      'Line 7 belongs to',
    ],
  ])('not where %s', async (_what, program, line, why) => {
    const result = await resumed(program, line)
    expect('why' in result ? result.why : result.text).toContain(why)
  })

  test(`from any line of a sample, or says why not (seed ${SEED})`, async () => {
    const [, coaster] = samplePrograms().find(([file]) => file.includes('coaster'))!
    const { outcome } = await checkUnit(memoryWorkspace({ 'a.nc': coaster }), FILE, SETTINGS)
    const run = outcome!.copies[0].setups[0].run!
    const lines = fc.sample(fc.integer({ min: 12, max: 150 }), { seed: SEED, numRuns: 6 })
    for (const line of lines) {
      const result = resume(source(coaster), run, line, 1.5, 'a.nc')
      expect('why' in result ? `${line}: ${result.why}` : '').toBe('')
    }
  }, 30_000)
})
