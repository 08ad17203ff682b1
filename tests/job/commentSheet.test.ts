import { describe, expect, it } from 'vitest'
import { commentSheet } from '../../server/src/job/commentSheet.ts'
import { runJob } from '../../server/src/job/runJob.ts'
import { readProgram } from '../../server/src/machine/readProgram.ts'
import { disc } from './workedExample.ts'

const URI = 'file:///job/single.nc'
const programOf = (text: string) => readProgram(new TextEncoder().encode(text))
const read = (text: string) => commentSheet(URI, programOf(text))

describe('declarations in comments', () => {
  it('make a sheet of one set-up', () => {
    const document = read(
      '(blank: 220 x 160 x 24 mm, zero near-left face)\n(bit 1: flat 6 mm, 2 flutes, cutting length 22, chip load 0.05-0.12)\nG21 G0 X0\n',
    )
    expect(document?.problems).toEqual([])
    const { sheet } = document ?? {}
    expect(sheet?.blanks.get('blank')).toMatchObject({ width: 220, depth: 160, thickness: 24 })
    expect(sheet?.bits.get(1)).toMatchObject({
      shape: 'flat',
      diameter: 6,
      flutes: 2,
      cuttingLength: 22,
      chipLoad: [0.05, 0.12],
      chipLoadDeclared: true,
    })
    expect(sheet?.setups).toMatchObject([{ kind: 'program', program: URI, zero: { x: 0, y: 0, z: 'face' } }])
  })

  it('take inches, corners, the bed, the wood and other bits', () => {
    const sheet = read(
      '(blank: 8 x 6 x 1 in, sugar maple, zero centre bed)\n(bit 2: bowl 1 in, corner radius 0.25, up spiral)\n',
    )?.sheet
    expect(sheet?.blanks.get('blank')).toMatchObject({ width: 203.2, material: 'sugar maple' })
    expect(sheet?.setups).toMatchObject([{ zero: { x: 101.6, z: 'bed' } }])
    expect(sheet?.bits.get(2)).toMatchObject({ shape: 'bowl', diameter: 25.4, cornerRadius: 6.35, spiral: 'up' })
  })

  it.each([
    '(blank: 220 x 160)',
    '(blank: 220 x 160 x 0 mm)',
    '(blank: 220 x 160 x 24 mm, zero anywhere)',
    '(bit 1: round 6 mm)',
    '(bit 1: flat 6 mm, lots of flutes)',
    '(bit 1: bowl 6 mm, corner radius 4)',
    '(bit 1: flat 0 mm)',
  ])('that do not fit are one problem: %s', comment => {
    const document = read(`${comment}\nG0 X1\n`)
    expect(document?.sheet).toBeUndefined()
    expect(document?.problems.map(({ code, range }) => [code, range.start, range.end])).toEqual([
      ['sheet/declaration-not-read', { line: 0, character: 0 }, { line: 0, character: comment.length }],
    ])
  })

  it('are no business of other comments', () => {
    expect(read('(the blank: is maple)\n(bits are sharp)\nG0 X1\n')).toBeUndefined()
    // Far below the first motion it is an ordinary comment.
    expect(read(`G0 X0\n${'G1 X1 F100\n'.repeat(60)}(blank: 1 x 1 x 1 mm)\n`)).toBeUndefined()
  })

  it('make a job that can be worked out', () => {
    const text = `(blank: 80 x 80 x 24 mm, zero near-left face)\n(bit 1: flat 6 mm)\n${disc(40, 40, 20, 10)}`
    const program = programOf(text)
    const document = commentSheet(URI, program)
    const outcome = document && runJob({ document, programs: new Map([[URI, program]]) })
    const whole = 80 * 80 * 24 - Math.PI * 20 ** 2 * 10
    expect(Math.abs((outcome?.copies[0].figures.finalVolume ?? 0) / whole - 1)).toBeLessThan(0.002)
  })
})
