import { describe, expect, it } from 'vitest'
import { harmsOf } from './limits.ts'
import { tryJob } from './trial.ts'

/** A job of one blank, 100 x 80 x 20 mm, and what the judge says is wrong with it. */
interface Job {
  readonly setups: readonly object[]
  readonly files: Readonly<Record<string, string>>
  readonly bits?: object
}

const machine = {
  travel: [600, 400, 90],
  maxFeed: [5000, 5000, 1500],
  acceleration: [400, 400, 200],
  clearance: 1.5,
  spindle: { min: 8000, max: 24000, power: 800 },
}
const limits = { floor: 4, wall: 5, inlayLeft: 2, reveal: 0.3, clearance: [0.05, 0.15], gapBeneath: 0.5 }
const flat = { shape: 'flat', diameter: 6, flutes: 2, chipLoad: [0.01, 0.2], maxPassDepth: 20, maxPlungeFeed: 500 }

function harms({ setups, files, bits = { 1: flat } }: Job): string[] {
  const sheet = {
    bits,
    blanks: { dish: { size: [100, 80, 20] }, dish2: { size: [100, 80, 18] } },
    setups,
    machine,
    limits,
  }
  const all = new Map(Object.entries({ ...files, 'job.json': JSON.stringify(sheet) }))
  return harmsOf(tryJob(all, 'job.json')).map(
    ({ what, line }) => `${what}${line === undefined ? '' : ` at ${line + 1}`}`,
  )
}

const program = (...lines: readonly string[]) =>
  ['G21 G90 S16000 M3', 'G0 X20 Y40 Z5', ...lines, 'G0 Z5', 'M5', 'M30'].join('\n')
const one = (text: string, more: object = {}) =>
  harms({ setups: [{ name: 'a', blank: 'dish', program: 'a.nc', bit: '1', ...more }], files: { 'a.nc': text } })

/** A zigzag of slots at the given heights, ramping down off the blank. */
const levels = (...heights: readonly number[]) =>
  program(...heights.flatMap((z, k) => [`G0 X${k % 2 ? 110 : -10} Y40`, `Z${z}`, `G1 X${k % 2 ? -10 : 110} F1500`]))

describe('the judge sees', () => {
  it('a cut that needs more than the spindle has', () => {
    const slot = (feed: number) => one(program('G0 X-10', 'Z-15', `G1 X110 F${feed}`))
    // 6 x 15 mm at 5 m/min: 7500 mm³/s, 450 W; a level twice as wide and deep would need four times that.
    expect(slot(4900)).toEqual([])
    const wide = { 1: { ...flat, diameter: 20 } }
    const job = (feed: number) => ({
      setups: [{ name: 'a', blank: 'dish', program: 'a.nc', bit: '1' }],
      files: { 'a.nc': program('G0 X-20', 'Z-15', `G1 X120 F${feed}`) },
      bits: wide,
    })
    expect(harms(job(4900))).toContain('more than the spindle has at 5')
    expect(harms(job(1500))).toEqual([])
  })

  it('a level that steps down three times as far as the others, not one that is smaller at the end', () => {
    expect(one(levels(-2, -4, -6, -8, -9))).toEqual([])
    expect(one(levels(-1, -2, -3, -6.2, -7.2))).toEqual(['odd step at 14'])
  })

  it('a level that goes back up into the air', () => {
    expect(one(levels(-2, -4, -1, -6, -8))).toEqual(['odd step at 11'])
    // Another pocket begins higher again, and cuts.
    const other = levels(-2, -4).replace('G0 Z5\nM5', 'G0 Z5\nX-10 Y20\nZ-2\nG1 X110\nG0 X-10\nZ-4\nG1 X110\nG0 Z5\nM5')
    expect(one(other)).toEqual([])
  })

  it('a straight descent onto a floor that stays, not into a hole of its own', () => {
    const pocket = ['G1 Z-4 F300', 'X60 F1500', 'Y45', 'X20', 'Y35', 'X60']
    expect(one(program(...pocket))).toEqual(['plunge onto the floor at 3'])
    expect(one(program('G1 Z-4 F300'))).toEqual([])
    // Cut away by the level below it.
    const deeper = ['G1 X21', 'G1 X20 Y40 Z-6 F300', 'X60 F1500', 'Y45', 'X20', 'Y35', 'X60', 'X20 Y40']
    expect(one(program(...pocket, 'X20 Y40', ...deeper))).toEqual([])
  })

  it('a shank that rubs on the wall beside it', () => {
    const short = { 1: { ...flat, cuttingLength: 6, stickout: 30 } }
    const twice = (z: number, shankDiameter: number) =>
      harms({
        setups: [{ name: 'a', blank: 'dish', program: 'a.nc', bit: '1' }],
        files: { 'a.nc': levels(-3, -5.5, z) },
        bits: { 1: { ...short[1], shankDiameter } },
      })
    expect(twice(-5.9, 6)).toEqual([])
    expect(twice(-8, 6)).toContain('shank rubs at 11')
    expect(twice(-8, 5)).toEqual([])
  })

  it('a blank that is cut over a hollow, or stands on a proud insert', () => {
    const hollow: string[] = ['G1 Z-6 F300']
    for (let y = 22; y <= 58; y += 4) hollow.push(`Y${y} X${y % 8 ? 20 : 80} F1500`, `X${y % 8 ? 80 : 20}`)
    const face: string[] = ['G0 X-10 Y-10', 'Z-1']
    for (let y = 0; y <= 80; y += 5) face.push(`G1 Y${y} F1500`, `X${y % 2 ? -10 : 110}`)
    const over = (between: readonly object[]) =>
      harms({
        setups: [
          { name: 'a', blank: 'dish', face: 'underside', program: 'a.nc', bit: '1' },
          ...between,
          { name: 'b', blank: 'dish', face: 'top', program: 'b.nc', bit: '1' },
        ],
        files: { 'a.nc': program(...hollow), 'b.nc': program(...face) },
      }).filter(what => !what.startsWith('plunge onto'))
    expect(over([])).toEqual(['cut over a hollow'])
    // Filled with resin to the face it lies flat.
    expect(over([{ name: 'r', blank: 'dish', insert: { resin: {}, into: 'a' } }])).toEqual([])
  })

  describe('under an inlay', () => {
    const plug = ['G21 G90 S16000 M3', 'G0 X27.1 Y40 Z5', 'G1 Z-8.4 F300', 'G3 X27.1 I22.9', 'G1 X25', 'G3 X25 I25']
    const pocket = (...more: readonly string[]) => {
      const lines = ['G21 G90 S16000 M3', 'G0 X50 Y40 Z5', 'G1 Z-8 F300']
      for (let r = 2; r < 17; r += 3) lines.push(`X${50 + r}`, `G3 X${50 + r} I-${r}`, 'G1')
      return [...lines, 'X67', 'G3 X67 I-17', ...more].join('\n')
    }
    const cavity = (depth: number) => {
      const lines = ['G21 G90 S16000 M3', 'G0 X50 Y40 Z5', `G1 Z-${depth} F300`]
      for (let r = 4; r <= 28; r += 4) lines.push(`X${50 + r}`, `G3 X${50 + r} I-${r}`, 'G1')
      return lines.join('\n')
    }
    const end = ['G0 Z5', 'M5', 'M30']
    const inlaid = (pocketText: string, ...depths: readonly number[]) =>
      harms({
        setups: [
          { name: 'plug', blank: 'dish2', program: 'plug.nc', makes: 'plug', sawAt: 8.4, bit: '1' },
          { name: 'pocket', blank: 'dish', face: 'underside', program: 'pocket.nc', makes: 'pocket', bit: '1' },
          { name: 'glue', blank: 'dish', insert: { plug: 'plug', into: 'pocket', glueLine: 0.1 } },
          ...depths.map((depth, k) => {
            return { name: `cavity ${k}`, blank: 'dish', program: `${depth}.nc`, makes: 'cavity', bit: '1' }
          }),
        ],
        files: {
          'plug.nc': [...plug, ...end].join('\n'),
          'pocket.nc': [pocketText, ...end].join('\n'),
          ...Object.fromEntries(depths.map(depth => [`${depth}.nc`, [cavity(depth), ...end].join('\n')])),
        },
      })

    it('room where the pocket is deeper, if that stays covered', () => {
      const trench = ['G1 X45 Y40', 'Z-9.5 F300', 'X55 F1500']
      expect(inlaid(pocket(), 6)).not.toContain('hollow beneath')
      expect(inlaid(pocket(...trench), 6)).toContain('hollow beneath')
      // The cavity passes the buried face: nothing is left to cover the room.
      expect(inlaid(pocket(...trench), 13)).not.toContain('hollow beneath')
    })

    it('too little past the buried face, 7.9 above the bed, whatever the roughing left to the last cut', () => {
      expect(inlaid(pocket(), 12.3)).toContain('not revealed')
      expect(inlaid(pocket(), 12.2, 12.3)).toContain('not revealed')
      expect(inlaid(pocket(), 12.5, 12.7)).not.toContain('not revealed')
    })
  })
})
