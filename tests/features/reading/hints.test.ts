import { describe, expect, test } from 'vitest'
import { HINT_KINDS, type HintKind, hintsOf } from '../../../server/src/features/reading/hints.ts'
import { programLenses } from '../../../server/src/features/reading/lenses.ts'
import { readMarks } from '../../rules/annotated.ts'
import { FLAT_6, sheetWith } from '../../rules/job.ts'
import { type OnBench, onBench } from './bench.ts'

/** Hints as marks: a caret under the last letter before the hint, its kind, and its words. */
function expectHints(source: string, sheet?: object, kinds: readonly HintKind[] = HINT_KINDS): void {
  const { text, expected } = readMarks('part.nc', source)
  const bench = onBench(text, sheet)
  const found = hintsOf(bench.program, bench.known, new Set(kinds), 0, 1e9)
  const say = (line: number, at: number, kind: string, label: string) => `${line}:${at} ${kind}: ${label}`
  expect(found.map(({ kind, line, character, label }) => say(line, character - 1, kind, label))).toEqual(
    expected.map(({ line, start, code, part }) => say(line, start, code, part)),
  )
}

describe('hints', () => {
  test('what a new level leaves under the bit, and the chip load of each feed', () => {
    expectHints(
      `
      G21 G90 M3 S16000
      //              ^ chipLoad: 0.05–0.063 mm a tooth
      G0 Z5
      G0 X30 Y30
      G1 Z-2 F250
      //   ^ left: 18 mm left
      G1 X70 F1600
      //         ^ chipLoad: 0.05 mm a tooth
      G1 X30 Z-4 F600
      //       ^ left: 16 mm left
      X70 F2000
      //      ^ chipLoad: 0.063 mm a tooth
      G0 Z20
      M30
    `,
      sheetWith(),
      ['left', 'chipLoad'],
    )
  })

  test('right through, and copies that differ', () => {
    expectHints(
      `
      G21 G90 M3 S16000
      G0 Z5
      G0 X30 Y30
      G1 Z-19.5 F250
      //      ^ left: B: nothing left, A: 0.5 mm left
      G1 X70 F1600
      G0 Z20
      M30
    `,
      sheetWith({ blank: { copies: { A: { thickness: 20 }, B: { thickness: 19.5 } } } }),
      ['left'],
    )
  })

  test('a line in a loop leaves something else each time', () => {
    expectHints(
      `
      G21 G90 M3 S16000
      G0 Z5
      #<z>=-2
      o1 while [#<z> GE -6]
      G0 X30 Y40
      G1 Z#<z> F250
      //     ^ left: 18 … 14 mm left
      G1 X70 F1600
      G0 Z5
      #<z>=[#<z>-2]
      o1 endwhile
      G0 Z20
      M30
    `,
      sheetWith(),
      ['left'],
    )
  })

  test('a chip load out of the range says which way', () => {
    expectHints(
      `
      G21 G90 M3 S16000
      //              ^ chipLoad: 0.02–0.15 mm a tooth, too much
      G0 Z5
      G0 X30 Y30
      G1 Z-2 F250
      G1 X70 F4800
      //         ^ chipLoad: 0.15 mm a tooth, too much
      G0 Z5
      G0 X30 Y50
      G1 Z-2 F250
      G1 X70 F640
      //        ^ chipLoad: 0.02 mm a tooth, too little
      G0 Z20
      M30
    `,
      sheetWith({ bits: { 1: FLAT_6 } }),
      ['chipLoad'],
    )
  })

  test('the radius of an arc by its centre, once for those of one shape, without any job', () => {
    expectHints(`
      G21 G90 F900
      G0 X10 Y0 Z1
      G3 X0 Y10 I-10 J0
      //              ^ arcRadius: R 10 mm
      G3 X-10 Y0 J-10
      G2 X0 Y10 R10
      G3 X-5 Y5 J-5
      //          ^ arcRadius: R 5 mm
    `)
  })

  test('the running time of an operation stands after its heading', () => {
    const text = ['G21 G90 M3 S16000 (go)', '(a slot)', 'G0 Z5', 'G0 X30 Y30', 'G1 Z-2 F120', 'X70 F1200', 'M30'].join(
      '\n',
    )
    const { program, known } = onBench(text, sheetWith())
    const [hint] = hintsOf(program, known, new Set(['time']), 0, 9)
    expect(hint).toMatchObject({ line: 1, character: 8 })
    // 7 mm at 120 mm/min are 3.5 s, 40 mm at 1200 are 2 s; rapids and acceleration come on top.
    expect(Number(/^(\d+) s$/.exec(hint.label)?.[1])).toBeGreaterThanOrEqual(6)
    expect(Number(/^(\d+) s$/.exec(hint.label)?.[1])).toBeLessThanOrEqual(8)
  })

  test('only for the lines that are asked for', () => {
    const text = 'G21 G90 F900\nG0 X10 Y0 Z1\nG3 X0 Y10 I-10 J0\nG3 X-5 Y5 J-5'
    const { program, known } = onBench(text)
    expect(hintsOf(program, known, new Set(HINT_KINDS), 3, 3).map(({ line }) => line)).toEqual([3])
  })
})

const titles = ({ program, known }: OnBench) =>
  programLenses(program, known).flatMap(({ line, title, showFrom }) => {
    return showFrom === undefined ? [`${line}: ${title.replace(/\d+ (min|s)\b/g, '# $1')}`] : []
  })

const two = [
  '(first slot)', // 0
  'G21 G90 T1 M6',
  'M3 S16000',
  'G0 Z5',
  'G0 X30 Y30',
  'G1 Z-2 F250',
  'G1 X70 F1600',
  'G1 X30 Z-4 F600',
  'X70 F1600',
  'G0 Z20',
  '(second slot)', // 10
  'T2 M6',
  'M3 S16000',
  'G0 X30 Y50',
  'G0 Z1',
  'G1 Z-1 F250',
  'G1 X70 F1600',
  'G0 Z20',
  'M30',
].join('\n')

describe('lenses', () => {
  const bits = { 1: FLAT_6, 2: { ...FLAT_6, name: '4 mm flat', diameter: 4 } }

  test('over operations and changes of the bit: bit, levels, deepest, time, volume, findings', () => {
    expect(titles(onBench(two, sheetWith({ bits })))).toEqual([
      // A slot by a flat bit is 2 r L + pi r² wide: (240 + 28.27) x 4 = 1073 mm³. The plunge onto a floor is a warning.
      '0: 6 mm flat · 2 levels · 4 mm deep · # s · 1.1 cm³',
      '1: 6 mm flat · 2 levels · 4 mm deep · # s · 1.1 cm³',
      '10: 4 mm flat · 1 mm deep · # s · 0.17 cm³ · 1 warning',
      '11: 4 mm flat · 1 mm deep · # s · 0.17 cm³ · 1 warning',
    ])
  })

  test('each has a way to see it from there', () => {
    const { program, known } = onBench(two, sheetWith({ bits }))
    const shown = programLenses(program, known).flatMap(({ showFrom }) => showFrom ?? [])
    expect(shown).toEqual([0, 1, 10, 11])
  })

  test('without a job, what the text tells', () => {
    expect(titles(onBench(two))).toEqual([
      '0: T1 · 2 levels · down to Z-4 mm · 0.13 m of cuts',
      '1: T1 · 2 levels · down to Z-4 mm · 0.13 m of cuts',
      '10: T2 · down to Z-1 mm · 0.04 m of cuts',
      '11: T2 · down to Z-1 mm · 0.04 m of cuts',
    ])
  })

  test('an operation that calls a subprogram has its moves', () => {
    const text = [
      'o100 sub',
      'G1 X70 F1600',
      'o100 endsub',
      '(slot)',
      'G21 G90 M3 S16000',
      'G0 X30 Y30 Z-1',
      'o100 call',
    ].join('\n')
    expect(titles(onBench(text)).find(title => title.startsWith('3:'))).toContain('0.04 m of cuts')
  })
})
