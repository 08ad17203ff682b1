import { describe, expect, test } from 'vitest'
import { type ProgramCompletion, programCompletions } from '../../../server/src/features/insert/completion.ts'
import type { PlaceQuestion } from '../../../server/src/features/insert/siteAt.ts'
import type { DialectChoice } from '../../../server/src/machine/dialect.ts'
import { readProgram } from '../../../server/src/machine/readProgram.ts'
import { ProgramText } from '../../../server/src/syntax/programText.ts'
import { DOWN_4, FLAT_6, questionAt, sheetWith } from './jobs.ts'

/** What is offered where the caret `|` stands. */
function offeredAt(marked: string, sheet?: object, dialect: DialectChoice['base'] = 'rs274ngc'): ProgramCompletion[] {
  const lines = marked.split('\n')
  const line = lines.findIndex(each => each.includes('|'))
  const at = { line, character: lines[line].indexOf('|') }
  const text = marked.replace('|', '')
  const known: Omit<PlaceQuestion, 'line'> = sheet
    ? questionAt(text, sheet, line)
    : { text: new ProgramText(text), program: readProgram(new TextEncoder().encode(text)), runs: [] }
  const choice = known.sheet?.machine.dialect ?? { base: dialect, add: [], remove: [] }
  return programCompletions({ ...known, dialect: choice }, at)
}

const labels = (found: readonly ProgramCompletion[]) => found.map(({ label }) => label)

/** The text with a completion taken. */
function taken(marked: string, label: string, sheet?: object): string {
  const found = offeredAt(marked, sheet).find(each => each.label === label)
  if (!found) throw new Error(`${label} is not offered: ${labels(offeredAt(marked, sheet)).join(', ')}`)
  const line = marked
    .split('\n')
    .find(each => each.includes('|'))!
    .replace('|', '')
  return line.slice(0, found.start) + found.text + line.slice(found.end)
}

describe('codes', () => {
  test('with what they do and where the standard says it', () => {
    const found = offeredAt('G21 G|')
    expect(found.find(({ label }) => label === 'G2')).toMatchObject({
      detail: 'clockwise arc or helix at the feed',
      about: 'NISTIR 6556, 3.5.3',
    })
    expect(labels(found).every(label => label.startsWith('G'))).toBe(true)
    expect(labels(offeredAt('M|'))).toContain('M6')
    expect(taken('G21 G|', 'G90')).toBe('G21 G90')
    expect(taken('G21 g9|', 'G91')).toBe('G21 G91')
  })

  test('only those that the dialect knows', () => {
    // Contract, section 4: the compact dialect has no cycles, no compensation, no M6.
    const compact = labels(offeredAt('G|', undefined, 'compact'))
    expect(compact).not.toContain('G81')
    expect(compact).not.toContain('G41')
    expect(compact).toContain('G38.3')
    expect(labels(offeredAt('M|', undefined, 'compact'))).not.toContain('M6')
    expect(labels(offeredAt('G|', undefined, 'rs274ngc-strict'))).not.toContain('G38.3')
    expect(labels(offeredAt('M|', undefined, 'rs274ngc-strict'))).not.toContain('M98')
  })

  test('and those that the sheet adds or takes away', () => {
    const machine = { dialect: { extends: 'compact', add: ['G81', 'M64'], remove: ['G38.2'] } }
    const codes = labels(offeredAt('G|', sheetWith({ machine })))
    expect(codes).toContain('G81')
    expect(codes).not.toContain('G38.2')
    const added = offeredAt('M|', sheetWith({ machine })).find(({ label }) => label === 'M64')
    expect(added?.detail).toContain('added by the sheet')
  })
})

describe('words', () => {
  test('axes say where the bit is now; what is on the line is not offered again', () => {
    const found = offeredAt('G21 G90\nG0 X10 Y20.5 Z5\nG1 X12 |')
    expect(labels(found)).not.toContain('X')
    expect(found.find(({ label }) => label === 'Y')?.detail).toBe('position away, now 20.5 mm')
    expect(found.find(({ label }) => label === 'Z')?.detail).toBe('height, now 5 mm')
  })

  test('bits come from the sheet', () => {
    const found = offeredAt('G21 T|', sheetWith({ bits: { 1: FLAT_6, 3: DOWN_4 } }))
    expect(found.map(({ label, detail }) => [label, detail])).toEqual([
      ['T1', '6 mm flat'],
      ['T3', '4 mm down-cut'],
    ])
    expect(taken('T|', 'T3', sheetWith({ bits: { 1: FLAT_6, 3: DOWN_4 } }))).toBe('T3')
  })

  test('feeds and speeds are reckoned for the bit in the spindle, in the units of the program', () => {
    const sheet = sheetWith({ bits: { 1: FLAT_6, 3: DOWN_4 } })
    const [cut, ramp, down] = offeredAt('G21 G90\nT1 M6\nM3 S16000\nG0 Z5\nG1 X10 F|', sheet)
    // 6 mm flat takes 0.03 to 0.12: 2100 / (16000 x 2) = 0.066.
    expect(cut).toMatchObject({ label: 'F2100', detail: expect.stringContaining('0.066 mm a tooth at 16000 rev/min') })
    expect(ramp.detail).toContain('ramps')
    // 270 is nine tenths of what it may plunge at.
    expect(down).toMatchObject({ label: 'F270', detail: expect.stringContaining('takes 300 mm/min') })
    const [inches] = offeredAt('G20 G90\nT1 M6\nM3 S16000\nG0 Z1\nG1 X1 F|', sheet)
    expect(Number(inches.label.slice(1)) * 25.4).toBeCloseTo(2100, -2)
    expect(offeredAt('G21\nT3 M6\nM3 S|', sheet).map(({ label }) => label)).toEqual(['S16000', 'S24000'])
    expect(offeredAt('G1 X10 F|')).toEqual([])
  })
})

describe('parameters and subprograms', () => {
  const program = '#<deep>=3 #5=2\no100 sub\n#<own>=1\no100 endsub\no200\nG0 X1\nM99\n'

  test('parameters that are used', () => {
    expect(labels(offeredAt(`${program}G1 X#|`))).toEqual(['#<deep>', '#5', '#<own>'])
    expect(taken(`${program}G1 X#<de|`, '#<deep>')).toBe('G1 X#<deep>')
    expect(taken(`${program}G1 X#<de|>`, '#<deep>')).toBe('G1 X#<deep>')
    expect(labels(offeredAt(`${program}G1 X#|`, undefined, 'rs274ngc-strict'))).toEqual(['#5'])
    expect(offeredAt(`${program}G1 X#|`, undefined, 'compact')).toEqual([])
  })

  test('subprograms to call, and what O words say', () => {
    expect(labels(offeredAt(`${program}o|`))).toEqual(['o100 call', 'o100', 'o200'])
    expect(taken(`${program}o1|`, 'o100 call')).toBe('o100 call')
    expect(labels(offeredAt(`${program}M98 P|`))).toEqual(['P200'])
    expect(labels(offeredAt('o1 wh|'))).toContain('while')
    expect(offeredAt(`${program}o|`, undefined, 'rs274ngc-strict')).toEqual([])
  })

  test('functions within brackets', () => {
    expect(labels(offeredAt('G1 X[|'))).toContain('SQRT')
    expect(taken('G1 X[2*s|', 'SIN')).toBe('G1 X[2*SIN[')
    expect(labels(offeredAt('G1 X[2] |'))).not.toContain('SQRT')
  })
})

describe('nothing is offered', () => {
  test.each(['(a comm|', '; G|', 'G1 X1|2', '$1|', 'G1 X-|'])('in %s', marked => {
    expect(offeredAt(marked)).toEqual([])
  })
})

describe('operations', () => {
  const start = 'G21 G90\nT1 M6\nM3 S16000\nG0 Z20\n'

  test('on a line of their own, by their names, as whole lines', () => {
    const found = offeredAt(`${start}|\nM30`, sheetWith()).filter(({ kind }) => kind === 'operation')
    expect(labels(found)).toContain('helical bore')
    expect(found[0].about).toContain('- diameter of the hole: 9.6 mm')
    expect(found[0].text.split('\n')[0]).toBe('(helical bore 9.6 mm across, 9 mm deep)')
    // A letter or two of a name are replaced; they are no word of the program's style.
    for (const name of ['pock', 'pocket', 'bo', 'ramp', 'of']) {
      const typed = offeredAt(`${start}${name}|\nM30`, sheetWith()).find(({ label }) => label === 'round pocket')
      expect(typed, name).toMatchObject({ start: 0, end: name.length })
      expect(typed?.text).toContain('\nG0 Z20\n')
    }
  })

  test('not among other words, and not without a job', () => {
    const kinds = (found: ProgramCompletion[]) => new Set(found.map(({ kind }) => kind))
    expect(kinds(offeredAt(`${start}G1 |\nM30`, sheetWith())).has('operation')).toBe(false)
    expect(kinds(offeredAt(`${start}|\nM30`)).has('operation')).toBe(false)
  })
})
