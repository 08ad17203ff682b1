import { describe, expect, it } from 'vitest'
import { judgeJob, lies } from './job.ts'
import { CannotJudge, pathOf } from './reader.ts'
import { cut, topOf, underside, Wood } from './wood.ts'

const block = (cell: number) => new Wood(40, 30, cell, () => [{ lo: 0, hi: 20, material: 0 }])

describe('the judge itself', () => {
  it('reads a helix as chords whose ends are exact', () => {
    const path = pathOf('G21 G90\nG0 X5 Y0 Z2\nG3 X-5 Y0 I-5 Z-1 F300\nM30')
    expect(path.at(-1)!.to).toEqual([-5, 0, -1])
    for (const { from } of path.slice(2)) expect(Math.hypot(from[0]!, from[1]!)).toBeCloseTo(5, 9)
  })

  it('refuses what it cannot read instead of guessing', () => {
    expect(() => pathOf('G81 X1 Y1 Z-1 R2')).toThrow(CannotJudge)
    expect(() => pathOf('G1 X#1')).toThrow(CannotJudge)
  })

  it('knows the underside of a bowl bit: torus edge by Pythagoras', () => {
    const bit = { shape: 'bowl', diameter: 20, cornerRadius: 6 } as const
    expect(underside(bit, 3)).toBe(0)
    expect(underside(bit, 4 + 3)).toBeCloseTo(6 - Math.sqrt(36 - 9), 12)
    expect(underside(bit, 10)).toBeCloseTo(6, 12)
    expect(underside(bit, 10.1)).toBeUndefined()
  })

  it('cuts a slot whose area is 2 r L + pi r^2 (closed form)', () => {
    const wood = block(0.1)
    const path = pathOf('G21 G90 G0 X10 Y15 Z5\nG1 Z-4 F300\nX30\nG0 Z5\nM30')
    const result = cut(wood, path, [0, 0, 20], () => ({ shape: 'flat', diameter: 6 }), 0.05)
    const volume = [...result.volume.values()].reduce((a, b) => a + b, 0)
    const exact = (2 * 3 * 20 + Math.PI * 9) * 4
    expect(Math.abs(volume / exact - 1)).toBeLessThan(0.01)
    expect(result.deepest).toMatchObject({ z: 16, line: 1 })
    expect(result.rapids.size).toBe(0)
  })

  it('sees a rapid through wood', () => {
    const path = pathOf('G21 G90 G0 X10 Y15 Z5\nG0 Z-1\nG0 X20\nM30')
    const result = cut(block(0.25), path, [0, 0, 20], () => ({ shape: 'ball', diameter: 6 }), 0.1)
    expect([...result.rapids.keys()]).toEqual([1, 2])
    // The nearest cell stands half a cell's diagonal from the axis.
    expect(result.rapids.get(1)).toBeCloseTo(1 - (3 - Math.sqrt(9 - 2 * 0.125 ** 2)), 9)
  })

  it('turns a blank over as the contract says', () => {
    expect(lies({ face: 'underside', turn: 'sideways', spin: 0 }, 220, 160, 10, 30)).toEqual([210, 30])
    expect(lies({ face: 'underside', turn: 'endways', spin: 0 }, 220, 160, 10, 30)).toEqual([10, 130])
    // A quarter counter-clockwise: the near-left corner comes to lie near right.
    expect(lies({ face: 'top', turn: 'sideways', spin: 90 }, 220, 160, 0, 0)).toEqual([160, 0])
  })
})

/** The contract's worked example, with its numbers, from programs written here by hand. */
const level = ['G21 G90 G0 Z5', 'X-20 Y-20', 'G1 Z-0.8 F600']
for (let y = -20, right = true; y <= 180; y += 10, right = !right) level.push(`Y${y}`, `X${right ? 180 : -20}`)
const cavity = ['G21 G90 G0 Z5', 'X80 Y80', 'G1 Z-16 F300']
for (let r = 4; r <= 40; r += 4) cavity.push(`X${80 + r}`, `G3 X${80 + r} I-${r}`, 'G1')
const pocket = ['G21 G90 G0 Z5', 'X80 Y80', 'G1 Z-10 F300']
for (let r = 2; r < 17; r += 2) pocket.push(`X${80 + r}`, `G3 X${80 + r} I-${r}`, 'G1')
pocket.push('X97', 'G3 X97 I-17', 'G0 Z5', 'M30')
const plug = ['G21 G90 G0 Z5', 'X22.1 Y45', 'G1 Z-10.4 F300']
plug.push('G3 X22.1 I22.9', 'G1 X20', 'G3 X20 I25', 'G0 Z5', 'M30')
for (const text of [level, cavity]) text.push('G0 Z5', 'M30')

const sheet = {
  bits: { 1: { shape: 'flat', diameter: 6 }, 2: { shape: 'flat', diameter: 20 } },
  blanks: { dish: { size: [160, 160, 24] }, plugs: { size: [90, 90, 18] } },
  setups: [
    { name: 'plug', blank: 'plugs', face: 'top', program: 'plug.nc', makes: 'plug', sawAt: 10.4, bit: '1' },
    { name: 'pocket', blank: 'dish', face: 'underside', program: 'pocket.nc', makes: 'pocket', bit: '1' },
    { name: 'glue', blank: 'dish', insert: { plug: 'plug', into: 'pocket', glueLine: 0.1 } },
    { name: 'level', blank: 'dish', face: 'underside', program: 'level.nc', makes: 'level', bit: '2' },
    { name: 'cavity', blank: 'dish', face: 'top', program: 'cavity.nc', makes: 'cavity', bit: '1' },
  ],
}

describe('the judge on a job', () => {
  it('reckons the worked example as a person does with a pencil', () => {
    const files = new Map([
      ['job.json', JSON.stringify(sheet)],
      ['plug.nc', plug.join('\n')],
      ['pocket.nc', pocket.join('\n')],
      ['level.nc', level.join('\n')],
      ['cavity.nc', cavity.join('\n')],
    ])
    const verdict = judgeJob(files, 'job.json', { cell: 1, along: 0.5 }).get('')!
    // 24 - 0.8 - 16 = 7.2; 10 - 0.1 - 8 = 1.9; 24 - 16 - 0.8 = 7.2 of inlay, since it comes through the levelled face.
    expect(verdict.floor).toBeCloseTo(7.2, 9)
    expect(verdict.reveal).toBeCloseTo(1.9, 9)
    expect(verdict.inlayLeft).toBeCloseTo(7.2, 9)
    expect([...verdict.cuts.values()].flatMap(c => [...c.rapids.keys()])).toEqual([])
    const middle = verdict.woods.get('dish')!
    expect(topOf(middle.pieces[80 * middle.nx + 80])).toBeCloseTo(8, 9)
  })
})
