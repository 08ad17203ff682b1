import { describe, expect, test } from 'vitest'
import { checkUri } from '../../server/src/features/check.ts'
import { memoryWorkspace } from './memoryWorkspace.ts'
import { workOut } from './run.ts'

const sheet = (setup: object) => ({
  bits: { 2: { shape: 'flat', diameter: 6, cuttingLength: 22 } },
  blanks: { board: { size: [80, 60, 12], material: 'maple, sugar' } },
  setups: [{ name: 'groove', blank: 'board', program: 'groove.nc', makes: 'other', ...setup }],
})
const program = (lines: string) => `G21 G90 G17 G94\nS16000 M3\nG0 Z5\nG0 X10 Y10\n${lines}\nG0 Z5\nG40\nM5\nM2\n`
/** To the left of its way a bit of 6 mm is kept 3 mm off a line along X (NISTIR 6556, Appendix B). */
const aside = (words: string) => program(`${words} G0 X20 Y17\nG1 Z-1 F200\nG1 X60 F900`)

const wood = async (setup: object, text: string) => {
  const { copies } = await workOut(sheet(setup), { 'groove.nc': text })
  return copies[0].setups[0].run!
}

describe('a bit kept off its path by its radius', () => {
  test.each([
    ['by D, the number of the bit', 'G41 D2', { bit: 2 }],
    ['for the bit in the spindle, where the set-up says which', 'G41', { bit: 2 }],
  ])('%s', async (_, words, setup) => {
    const run = await wood(setup, aside(words))
    expect(run.program.notSimulated).toEqual([])
    const { x, y, count } = run.program.motions
    // The first move comes in on a slant; along the wall the path lies a radius to the left.
    expect([x[count - 2], y[count - 2]]).toEqual([60, 20])
    // In the midst of the groove its sides lie on the line and a bit's width beside it.
    const { grid, layers } = run.after
    const heightAt = (at: number) => layers[0].hi[Math.floor(at / grid.cell) * grid.nx + Math.floor(45 / grid.cell)]
    expect([16.6, 17.4, 20, 22.6, 23.4].map(heightAt)).toEqual([12, 11, 11, 11, 12])
  })

  test('of a bit that nobody has declared is not simulated, and said so', async () => {
    const run = await wood({ bit: 2 }, aside('G41 D7'))
    expect(run.program.notSimulated.map(({ why }) => why)).toEqual([expect.stringContaining('bit 7 is not known')])
  })

  test('in a program that declares its own bits', async () => {
    const text = `(blank: 80 x 60 x 12 mm, zero near-left face)\n(bit 2: flat 6 mm, 2 flutes, cutting length 22)\n${aside('T2 M6\nG41')}`
    const settings = {
      severity: {},
      dialect: { base: 'rs274ngc' as const, add: [], remove: [] },
      roots: ['file:///job/'],
    }
    const { findings, outcomes } = await checkUri(memoryWorkspace({ 'a.nc': text }), 'file:///job/a.nc', settings)
    expect(findings.map(({ code }) => code)).not.toContain('program/not-simulated')
    const [{ run }] = outcomes[0].copies[0].setups
    expect(run!.program.motions.y.at(-1)).toBeCloseTo(20, 9)
  })
})
