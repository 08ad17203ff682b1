import { readFileSync } from 'node:fs'
import { parse } from 'jsonc-parser'
import { describe, expect, test } from 'vitest'
import { readPlain } from './plain.ts'

const samples = new URL('../../samples/', import.meta.url)
const read = (name: string): string => readFileSync(new URL(name, samples), 'utf8')

/** Depth of a program below the Z zero that it was made for, mm. */
const depthOf = (file: string): number => -Math.min(...readPlain(read(file)).map(move => move.to.z))

interface Written {
  readonly limits: { readonly floor: number; readonly reveal: number; readonly inlayLeft: number }
  readonly blanks: Readonly<
    Record<string, { readonly copies?: Readonly<Record<string, { readonly thickness: number }>> }>
  >
}

/** What thickness, zeros, flatness and sanding can take off a floor at most with the tolerances of both sheets, mm. */
const AGAINST_FLOOR = 0.2 + 0.2 + 0.2 + 0.2
const AGAINST_REVEAL = 0.2 + 0.2 + 0.2

/** By pencil, from the depths of the programs and the thicknesses of the sheet; `glue` is the film under a plug. */
const jobs = [
  { folder: 'fern-dish', blank: 'dish', unit: 1, glue: 0.1, floors: { A: 5.5, B: 5.0 }, reveals: { A: 1.3, B: 1.8 } },
  {
    folder: 'crescent-tray',
    blank: 'tray',
    unit: 25.4,
    glue: 0,
    floors: { A: 5.842, B: 5.385 },
    reveals: { A: 1.27, B: 1.727 },
  },
] as const

describe.each(jobs)('$folder', ({ folder, blank, unit, glue, floors, reveals }) => {
  const sheet = parse(read(`${folder}/${folder}.jobsheet.json`)) as Written
  const pocket = depthOf(`${folder}/pocket.nc`)
  const levelled = depthOf(`${folder}/level.nc`)
  const cavity = depthOf(`${folder}/cavity.nc`)

  test.each(['A', 'B'] as const)('copy %s keeps its limits even with everything against it', copy => {
    const thickness = (sheet.blanks[blank].copies?.[copy].thickness ?? Number.NaN) * unit
    const floor = thickness - cavity - levelled
    const reveal = pocket - glue - (thickness - cavity)
    expect(floor).toBeCloseTo(floors[copy], 2)
    expect(reveal).toBeCloseTo(reveals[copy], 2)
    expect(floor - AGAINST_FLOOR).toBeGreaterThan(sheet.limits.floor * unit)
    expect(floor - AGAINST_FLOOR).toBeGreaterThan(sheet.limits.inlayLeft * unit)
    expect(reveal - AGAINST_REVEAL).toBeGreaterThan(sheet.limits.reveal * unit)
  })
})

test('the plug of the fern dish is sawn off at the bottom of its carving, and stands proud until it is levelled', () => {
  const carved = depthOf('fern-dish/plug.nc')
  expect(carved).toBeCloseTo(7.9, 6)
  expect(read('fern-dish/fern-dish.jobsheet.json')).toContain('"sawAt": 7.9')
  const proud = carved - (depthOf('fern-dish/pocket.nc') - 0.1)
  expect(proud).toBeCloseTo(0.5, 6)
})
