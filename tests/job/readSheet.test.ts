import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { readSheet } from '../../server/src/job/readSheet.ts'
import { SHEET_CODES } from '../../server/src/job/sheetCodes.ts'
import type { SheetDocument } from '../../server/src/job/sheetDocument.ts'
import { SHEET } from './workedExample.ts'

const URI = 'file:///job/dish.jobsheet.json'

const textOf = (document: SheetDocument) =>
  document.problems.map(({ code, range: { start, end } }) => {
    const line = document.text.split('\n')[start.line] ?? ''
    return `${code} ${line.slice(start.character, end.line === start.line ? end.character : undefined)}`
  })

const read = (text: string) => readSheet(URI, text)

const withSetups = (setups: string, bits = '"1": {}') =>
  read(`{ "bits": { ${bits} }, "blanks": { "dish": { "size": [220, 160, 24] }, "plugs": { "size": [120, 90, 18] } },
"setups": [
${setups}
] }`)

describe('a sheet that is right', () => {
  it('gets the defaults of the contract, in mm', () => {
    const { sheet, problems } = read(
      '{ "blanks": { "dish": { "size": [220, 160, 24] } }, "setups": [], "bits": { "1": {} }, }',
    )
    expect(problems).toEqual([])
    expect(sheet?.limits).toEqual({
      floor: 4,
      wall: 5,
      inlayLeft: 2,
      reveal: 0.3,
      clearance: [0.05, 0.15],
      gapBeneath: 0.5,
    })
    expect(sheet?.tolerances.register).toBe(0.3)
    expect(sheet?.machine.travel).toEqual([600, 400, 90])
    expect(sheet?.machine.spindle).toEqual({ manual: false, min: 8000, max: 24000, power: 800 })
    expect(sheet?.bits.get(1)).toMatchObject({
      shape: 'flat',
      diameter: 6,
      flutes: 2,
      cuttingLength: 22,
      stickout: 32,
      colletDiameter: 20,
      centreCutting: true,
      maxRampAngle: 90,
      // Half the diameter in hardwood, which a wood that is not named counts as.
      maxPassDepth: 3,
      chipLoadDeclared: false,
      maxSpeed: 24000,
    })
  })

  it('reads comments, trailing commas and inches', () => {
    const { sheet, problems } = read(`{ // a dish
      "units": "inch", "blanks": { "dish": { "size": [8, 6, 1], "copies": { "A": { "thickness": 1.01 } } } },
      "bits": { "2": { "shape": "bowl", "diameter": 1, "cornerRadius": 0.25, "chipLoad": [0.001, 0.004] } },
      "machine": { "maxFeed": [200, 200, 50] },
      "setups": [{ "name": "cavity", "blank": "dish", "program": "cavity.nc", "zero": { "x": "centre", "y": 1 } }],
    }`)
    expect(problems).toEqual([])
    expect(sheet?.blanks.get('dish')).toMatchObject({ width: 203.2, thickness: 25.4 })
    expect(sheet?.blanks.get('dish')?.copies.get('A')).toBeCloseTo(25.654, 9)
    expect(sheet?.bits.get(2)).toMatchObject({
      diameter: 25.4,
      cornerRadius: 6.35,
      centreCutting: false,
      maxRampAngle: 3,
      maxPassDepth: 3,
    })
    expect(sheet?.bits.get(2)?.chipLoad[1]).toBeCloseTo(0.1016, 9)
    expect(sheet?.machine.maxFeed[0]).toBeCloseTo(5080, 9)
    const [setup] = sheet?.setups ?? []
    expect(setup).toMatchObject({ program: 'file:///job/cavity.nc', zero: { x: 101.6, y: 25.4, z: 'face' } })
  })

  it('fills in chip loads from the published figures for the wood', () => {
    const chip = (material: string, diameter: number) => {
      const text = `{ "blanks": { "b": { "size": [99, 99, 20], "material": "${material}" } }, "setups": [], "bits": { "1": { "diameter": ${diameter} } } }`
      return read(text).sheet?.bits.get(1)
    }
    // references.md, section 3: 1/4 in in hardwood .005-.007 and .009-.011 in/tooth; in MDF .012-.015.
    expect(chip('maple, sugar', 6.35)?.chipLoad[0]).toBeCloseTo((0.005 * 25.4) / 4, 9)
    expect(chip('maple, sugar', 6.35)?.chipLoad[1]).toBeCloseTo(0.011 * 25.4, 9)
    expect(chip('MDF', 6.35)?.chipLoad[1]).toBeCloseTo(0.015 * 25.4, 9)
    // Midway between 1/4 and 3/8 in softwood: (.006 + .015) / 2.
    expect(chip('pine', (5 / 16) * 25.4)?.chipLoad[0]).toBeCloseTo((0.0105 * 25.4) / 4, 9)
    expect(chip('pine', 6.35)?.maxPassDepth).toBeCloseTo(6.35, 9)
  })
})

describe('a sheet that is wrong says so at the field', () => {
  it('names the field that was meant', () => {
    const document = read(
      '{ "blanks": { "dish": { "size": [220, 160, 24], "matrial": "maple" } }, "setups": [], "limts": {} }',
    )
    expect(textOf(document)).toEqual(['sheet/unknown-field "matrial"', 'sheet/unknown-field "limts"'])
    expect(document.problems.map(({ message }) => message).join()).toMatch(/"material".*"limits"/)
    // Passed over: the job can be made all the same.
    expect(document.sheet?.blanks.get('dish')?.width).toBe(220)
  })

  it.each([
    ['"size": [220, 160, 0]', 'sheet/bad-number 0'],
    ['"size": [220, 160, 1e99]', 'sheet/bad-number 1e99'],
    ['"size": [220, 160, "24"]', 'sheet/bad-number "24"'],
    ['"size": [220, 160]', 'sheet/bad-value [220, 160]'],
    ['"diameter": 200', 'sheet/missing-field "dish"'],
    ['"size": [220, 160, 24], "grain": "z"', 'sheet/bad-value "z"'],
    ['"size": [220, 160, 24], "copies": { "A": { "thickness": -1 } }', 'sheet/bad-number -1'],
  ])('blank %s', (blank, expected) => {
    const document = read(`{ "setups": [], "blanks": { "dish": { ${blank} } } }`)
    expect(textOf(document)).toEqual([expected])
    expect(document.sheet).toBeUndefined()
  })

  it.each([
    ['"1": { "diameter": -6 }', 'sheet/bad-number -6'],
    ['"1": { "shape": "bowl", "diameter": 6, "cornerRadius": 4 }', 'sheet/bad-number 4'],
    ['"1": { "shape": "balll" }', 'sheet/bad-value "balll"'],
    ['"one": {}', 'sheet/bad-value "one"'],
    ['"1": { "chipLoad": [0.2, 0.1] }', 'sheet/bad-number [0.2, 0.1]'],
    ['"1": { "flutes": 2.5 }', 'sheet/bad-number 2.5'],
    ['"1": {}, "1": {}', 'sheet/duplicate-field "1"'],
  ])('bit %s', (bits, expected) => {
    expect(textOf(withSetups('', bits))).toEqual([expected])
  })

  it.each([
    ['{ "name": "a", "blank": "dsh", "program": "a.nc" }', 'sheet/unknown-blank "dsh"'],
    ['{ "name": "a", "blank": "dish" }', 'sheet/missing-field { "name": "a", "blank": "dish" }'],
    ['{ "blank": "dish", "program": "a.nc" }', 'sheet/missing-field { "blank": "dish", "program": "a.nc" }'],
    ['{ "name": "a", "blank": "dish", "program": "a.nc", "bit": 7 }', 'sheet/unknown-bit 7'],
    ['{ "name": "a", "blank": "dish", "program": "a.nc", "copies": ["A"] }', 'sheet/unknown-copy "A"'],
    ['{ "name": "a", "blank": "dish", "program": "a.nc", "zero": { "z": "kept" } }', 'sheet/wrong-order "kept"'],
    ['{ "name": "g", "blank": "dish", "insert": { "resin": {}, "into": "pocket" } }', 'sheet/unknown-setup "pocket"'],
    [
      '{ "name": "g", "blank": "dish", "program": "a.nc", "saw": { "face": "top", "leaves": 3 } }',
      'sheet/bad-value "saw"',
    ],
  ])('set-up %s', (setup, expected) => {
    expect(textOf(withSetups(setup))).toEqual([expected])
  })

  it('sees an insert before its pocket and its plug', () => {
    const document = withSetups(`{ "name": "glue", "blank": "dish", "insert": { "plug": "plug", "into": "pocket" } },
{ "name": "plug", "blank": "plugs", "program": "plug.nc", "makes": "plug", "sawAt": 10 },
{ "name": "pocket", "blank": "dish", "face": "underside", "program": "pocket.nc", "makes": "pocket" }`)
    expect(textOf(document)).toEqual(['sheet/wrong-order "pocket"', 'sheet/wrong-order "plug"'])
  })

  it('sees pins that do not land on one another', () => {
    const pins = (
      x: number,
    ) => `{ "name": "pocket", "blank": "dish", "face": "underside", "program": "p.nc", "makes": "pocket" },
{ "name": "cavity", "blank": "dish", "program": "c.nc", "locate": { "by": "pins", "pins": [[10, 80], [${x}, 80]] } }`
    expect(textOf(withSetups(pins(210)))).toEqual([])
    expect(textOf(withSetups(pins(209)))).toEqual(['sheet/pins-not-symmetric [[10, 80], [209, 80]]'])
  })

  it('passes over names that would reach an object itself', () => {
    const document = read('{ "setups": [], "blanks": { "dish": { "size": [1, 2, 3], "__proto__": { "size": 1 } } } }')
    expect(textOf(document)).toEqual(['sheet/unknown-field "__proto__"'])
    expect(({} as { size?: unknown }).size).toBeUndefined()
  })
})

describe('whatever is typed', () => {
  const whole = JSON.stringify(SHEET, null, 2)

  it('never throws on a half-typed sheet, and makes no job of it', () => {
    for (let end = 0; end < whole.length; end += 7) {
      const document = read(whole.slice(0, end))
      expect(document.problems.length).toBeGreaterThan(0)
      expect(document.sheet).toBeUndefined()
    }
  })

  it('never throws on any JSON, and only gives codes that have a page (seed in the message)', () => {
    const names = [
      'bits',
      'blanks',
      'setups',
      'size',
      '1',
      'insert',
      'zero',
      'limits',
      'clearance',
      'constructor',
      '__proto__',
    ]
    const key = fc.oneof(fc.constantFrom(...names), fc.string({ maxLength: 5 }))
    const { value } = fc.letrec(tie => ({
      value: fc.oneof(
        { maxDepth: 5 },
        fc.constantFrom(null, true, 0, -1, 1e99, 'mm', 'dish', 'centre'),
        fc.array(tie('value'), { maxLength: 4 }),
        fc.dictionary(key, tie('value'), { maxKeys: 5 }),
      ),
    }))
    fc.assert(
      fc.property(value, any => {
        const text = JSON.stringify({ blanks: any, setups: [any], bits: any, limits: any }) ?? ''
        for (const { code } of read(text).problems) expect(Object.keys(SHEET_CODES)).toContain(code)
      }),
      { numRuns: 300 },
    )
  })

  it('survives brackets without end, and no text at all', () => {
    expect(textOf(read('['.repeat(100_000)))[0]).toMatch(/^sheet\/bad-json/)
    expect(textOf(read(''))[0]).toMatch(/^sheet\/bad-json/)
    expect(read('// nothing').sheet).toBeUndefined()
  })
})
