import { expect, it } from 'vitest'
import { workOut } from './run.ts'
import { circles, disc, raster } from './workedExample.ts'

const TAN30 = Math.tan(Math.PI / 6)

const program = (parts: readonly string[]) => ['G21 G17 G90 G94', ...parts, 'G0 Z5', 'M5', 'M30'].join('\n')
const inside = (text: string) => text.split('\n').slice(4, -4)

/**
 * Walls cut by a sharp 60 degree vee bit: the pocket, 5 deep, has radius 8 at its bottom and widens by tan 30 for each
 * mm upwards; the plug, carved 6 deep, is `r` wide at its face and widens as it goes down. Turned over it goes in until
 * its face is as wide as the pocket: (r - 8) / tan 30 above the bottom.
 */
it('seats a tapered plug where trigonometry says', async () => {
  const held = 1
  const face = 8 + held * TAN30
  const plugTip = face + 6 * TAN30
  const sheet = {
    bits: {
      '1': { diameter: 6 },
      '2': { shape: 'vee', diameter: 12, angle: 60, tipDiameter: 0 },
    },
    blanks: { dish: { size: [50, 50, 20] }, plugs: { size: [50, 50, 15] } },
    setups: [
      { name: 'plug', blank: 'plugs', program: 'plug.nc', makes: 'plug', sawAt: 6, bit: 2 },
      { name: 'pocket', blank: 'dish', face: 'underside', program: 'pocket.nc', makes: 'pocket' },
      { name: 'glue', blank: 'dish', insert: { plug: 'plug', into: 'pocket' } },
      { name: 'level', blank: 'dish', face: 'underside', program: 'level.nc', makes: 'level', bit: 1 },
      { name: 'cavity', blank: 'dish', program: 'cavity.nc', makes: 'cavity', bit: 1 },
    ],
  }
  const pocket = [
    'T1 M6',
    'S16000 M3',
    'G0 Z5',
    ...circles(25, 25, [1, 4, 5], -5),
    'T2 M6',
    'G0 Z5',
    ...circles(25, 25, [8], -5),
  ]
  const plug = [
    'T2 M6',
    'S16000 M3',
    'G0 Z5',
    ...circles(25, 25, [plugTip], -6),
    'T1 M6',
    'G0 Z5',
    ...circles(25, 25, [plugTip + 3], -6),
  ]
  const programs = {
    'plug.nc': program(plug),
    'pocket.nc': program(pocket),
    'level.nc': program(['T1 M6', 'S16000 M3', 'G0 Z5', ...inside(raster(50, 50, 0.5))]),
    'cavity.nc': disc(25, 25, 15, 17),
  }
  const outcome = await workOut(sheet, programs)
  expect(outcome.problems).toEqual([])
  const { figures } = outcome.copies[0]
  expect(figures.fit?.gapBeneath).toBeCloseTo(held, 1)
  expect(Math.abs((figures.fit?.gapBeneath ?? 0) - held)).toBeLessThan(0.012)
  expect(figures.fit?.proud).toBeCloseTo(6 + held - 5, 1)
  // Buried face 1 above the bottom of the pocket: Z 4; the cavity's floor at Z 3.
  expect(Math.abs((figures.reveal?.nominal ?? 0) - 1)).toBeLessThan(0.012)
  expect(figures.reveal?.shown).toBe(1)
  // Where the room beneath stayed open the cavity passed it: all that is left is solid.
  expect(figures.inlayLeft?.nominal).toBeCloseTo(2.5, 3)
  expect(figures.floor?.nominal).toBeCloseTo(2.5, 3)
  // Hollow is left where the cavity does not reach the buried face: the floor counts what is solid only.
  const shallow = await workOut(sheet, { ...programs, 'cavity.nc': disc(25, 25, 15, 12) })
  const [copy] = shallow.copies
  expect(Math.abs((copy.figures.reveal?.nominal ?? 0) + 4)).toBeLessThan(0.012)
  expect(Math.abs((copy.figures.floor?.nominal ?? 0) - (8 - 0.5 - held))).toBeLessThan(0.012)
}, 60_000)
