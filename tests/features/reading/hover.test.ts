import { describe, expect, test } from 'vitest'
import { FLAT_6, sheetWith } from '../../rules/job.ts'
import { hoverOver, onBench, said } from './bench.ts'

const lines = (...text: string[]) => text.join('\n')

describe('what a word means', () => {
  const bench = onBench(
    lines(
      'N10 G21 G90 (a slot)',
      'G0 X1 Y2 Z5 F900 S16000',
      'G2 X11 I5 J0',
      'G91 G1 X3',
      'G90 G81 X4 Z-2 R3 P1',
      'G4 P2',
      '#<deep>=[2*3] #5=#<deep>',
      'G1 Z[0-SQRT[#<deep>]]',
      'o100 call [3]',
      'G10 L2 P1 X5',
      'G93 G1 X4 F2',
      '/M3',
      '(allow plunge/rapid: the hole is there already)',
      '$100=80',
      'o100 sub',
      'o100 endsub',
      'G92 X4',
      'M77',
    ),
  )
  test.each([
    [0, 'N10', '**N**: line number (NISTIR 6556, 3.3)'],
    [0, 'G21', '**G21**: lengths are millimetres (NISTIR 6556, 3.5.7)'],
    [1, 'X1', '**X**: position to the right (NISTIR 6556, 3.5.17)'],
    [1, 'F900', '**F**: feed: how far the bit goes in a minute (NISTIR 6556, 3.7.1)'],
    [1, 'S16000', '**S**: spindle speed (NISTIR 6556, 3.7.2)'],
    [2, 'I5', '**I**: from the start of the arc to its centre, in X (NISTIR 6556, 3.5.3.2)'],
    [3, 'X3', '**X**: distance to the right from where the bit is, since G91 is in force (NISTIR 6556, 3.5.17)'],
    [4, 'Z-2', '**Z**: depth of the hole (NISTIR 6556, 3.5.16)'],
    [4, 'R3', '**R**: clear height'],
    [4, 'P1', '**P**: seconds to dwell at the bottom'],
    [5, 'P2', '**P**: seconds to dwell (NISTIR 6556, 3.5.4)'],
    [6, '#<deep>', 'Set here: `[2*3]`'],
    [6, '#5', '**\\#5**: a parameter; in a subprogram one of its own (NISTIR 6556, 3.3.2.2)'],
    [6, '*', '**\\***: times (NISTIR 6556, 3.3.2.3)'],
    [7, 'SQRT', '**SQRT**: square root (NISTIR 6556, 3.3.2.4)'],
    [7, '#<deep>', 'Set on line 7: `[2*3]`'],
    [8, 'call', '**O CALL**: runs the subprogram of that name'],
    [8, '100', 'Begins on line 15'],
    [9, 'P1', '**P**: number of the work offset'],
    [10, 'F2', '**F**: feed as one over the minutes that this move takes (NISTIR 6556, 3.5.19)'],
    [11, '/', 'the line is left out'],
    [11, 'M3', '**M3**: spindle on, clockwise (NISTIR 6556, 3.6.2)'],
    [12, '(allow', '`plunge/rapid` is not reported on line 14'],
    [13, '$', 'a setting of the machine'],
    [16, 'X4', 'that the place where the bit stands is called by (NISTIR 6556, 3.5.18)'],
  ])('line %i: %s', (line, words, wanted) => {
    expect(said(bench, line, words)).toContain(wanted)
  })

  test('the whole word is marked, of a letter as of its number', () => {
    expect(hoverOver(bench, 1, 'X1')?.span).toEqual({ line: 1, start: 3, end: 5 })
    expect(hoverOver(bench, 1, '16000')?.span).toEqual({ line: 1, start: 17, end: 23 })
  })

  test('a comment that says nothing to us has nothing said of it, nor has a blank', () => {
    expect(hoverOver(bench, 0, '(a slot')?.markdown).toBeUndefined()
    expect(hoverOver(onBench('G0   X1'), 0, '  X')).toBeUndefined()
  })
})

const slot = lines(
  'G21 G90 M3 S16000', // 0
  'G0 Z5',
  'G0 X30 Y40',
  'G1 Z-3 F250', // 3
  'G1 X70 F1600', // 4
  'G1 X30 Z-6', // 5
  'G0 Z20',
  'M30',
)

describe('what a word does, by the text alone', () => {
  test('where the line takes the bit, and what is in force since which line', () => {
    const bench = onBench(slot)
    expect(said(bench, 4, 'X70')).toContain('Straight cut, 40 mm, from X30 Y40 Z-3 to X70 Y40 Z-3 mm')
    expect(said(bench, 4, 'G1')).toContain(
      'In force: 1600 mm/min (line 5) · 16000 rev/min (line 1) · spindle on (line 1)',
    )
    expect(said(bench, 2, 'X30')).toContain('Rapid, from X? Y? Z5 to X30 Y40 Z5 mm')
    expect(hoverOver(bench, 4, 'G1', true)?.markdown).not.toContain('under the face')
  })

  test('inches are said as well', () => {
    const bench = onBench(lines('G20 G90', 'G0 X0 Y0 Z1', 'G1 X2 Z-0.5 F40'))
    expect(said(bench, 2, 'X2')).toContain('to X50.8 Y0 Z-12.7 mm (in inches: to X2 Y0 Z-0.5)')
    expect(said(bench, 2, 'F40')).toContain('1016 mm/min')
  })

  test('arcs and helices, with how far they turn', () => {
    const bench = onBench(lines('G21 G90 F900', 'G0 X10 Y0 Z0', 'G3 X0 Y10 I-10', 'G2 X0 Y10 J-5 Z-1'))
    expect(said(bench, 2, 'G3')).toContain('Arc of radius 10 mm, 90° counter-clockwise, 15.71 mm')
    expect(said(bench, 3, 'G2')).toContain('Helix of radius 5 mm, 360° clockwise')
  })
})

describe('what a word does in the wood', () => {
  const bench = onBench(slot, sheetWith())

  test('depth under the face, what is left, engagement, chip load against the range, time', () => {
    const words = said(bench, 4, 'X70')
    expect(words).toContain('3 mm under the face; **17 mm left under the bit**')
    // 1600 / (16000 x 2) = 0.05.
    expect(words).toContain(
      'Chip load 0.05 mm a tooth: 1600 mm/min / (16000 rev/min × 2); 6 mm flat takes 0.03 to 0.12',
    )
    expect(words).toContain('Takes 3 mm deep and 6 mm wide, walls on both sides')
    // 40 mm of a slot 6 wide and 3 deep: 720 mm³; the half disc at its beginning went with the plunge.
    expect(words).toMatch(/0\.7[12] cm³/)
    expect(words).toMatch(/About \d+ s into the program, of \d+ s/)
  })

  test('a later level shows in what is left in the end', () => {
    // At X70 the ramp begins at Z-3; at X30 it ends at Z-6.
    expect(said(bench, 3, 'Z-3')).toContain('**17 mm left under the bit**; 14 mm once the program has run')
    expect(said(bench, 5, 'Z-6')).toContain('**14 mm left under the bit**')
    expect(said(bench, 5, 'Z-6')).toContain('0.05 mm a tooth if it were level')
  })

  test('the place in the blank frame, however the blank lies', () => {
    expect(said(bench, 4, 'X70')).toContain('In the blank, top up: (30, 40, 17) to (70, 40, 17)')
    const turned = onBench(slot, sheetWith({ setup: { face: 'underside' } }))
    // Turned sideways about Y: x = W - x, z from the other face (contract, section 2).
    expect(said(turned, 4, 'X70')).toContain('In the blank, top up: (70, 40, 3) to (30, 40, 3)')
  })

  test('copies speak where they differ, and once where they do not', () => {
    const copies = { A: { thickness: 20 }, B: { thickness: 19.5 }, C: { thickness: 20 } }
    const words = said(onBench(slot, sheetWith({ blank: { copies } })), 4, 'X70')
    expect(words).toContain('*copy B*: 3 mm under the face; **16.5 mm left under the bit**')
    expect(words).toContain('*copy A*: 3 mm under the face; **17 mm left under the bit**')
    expect(words).not.toContain('copy C')
    expect(words.match(/Chip load/g)).toHaveLength(1)
  })

  test('too much and too little are told as the rules tell them', () => {
    const fast = slot.replace('F1600', 'F4800')
    expect(said(onBench(fast, sheetWith()), 4, 'X70')).toContain('Chip load 0.15 mm a tooth, **too much**')
    expect(said(onBench(fast, sheetWith()), 4, 'F4800')).toContain('In 1 level cut: 0.15 mm a tooth, **too much**')
    const slow = slot.replace('F1600', 'F640')
    expect(said(onBench(slow, sheetWith()), 4, 'X70')).toContain('0.02 mm a tooth, **too little**')
  })

  test('beside the blank, and where the bit is not known', () => {
    const beside = slot.replace('X30 Y40', 'X-30 Y40')
    expect(said(onBench(beside, sheetWith()), 3, 'Z-3')).toContain('3 mm under the face, beside the blank')
    const two = sheetWith({ bits: { 1: FLAT_6, 2: FLAT_6 } })
    expect(said(onBench(slot, two), 3, 'Z-3')).toContain('which bit is in the spindle is not known')
  })

  test('a bit by its number, a code that the dialect refuses, a heading', () => {
    const text = lines('(first slot)', 'G21 G90 T1 M6', slot.replace('G21 G90 ', ''), 'G81 X1')
    const compact = onBench(text, sheetWith({ machine: { dialect: 'compact' } }))
    expect(said(compact, 1, 'M6')).toContain('**Not in the compact dialect.** Write instead: one program for each bit')
    expect(said(compact, 1, 'T1')).toContain('**6 mm flat**: flat, 6 mm across, 2 flutes, 22 mm long')
    expect(said(compact, 1, 'T1')).toContain('Passes to 4 mm deep, chips 0.03 to 0.12 mm a tooth')
    expect(said(compact, 0, '(first')).toMatch(
      /\*\*first slot\*\*, lines 1 to \d+\n\n6 mm flat · .* deep · \d+ s · .* cm³/,
    )
  })
})

describe('a line that is run often', () => {
  test('in a loop: the deepest pass, and which it is', () => {
    const text = lines(
      'G21 G90 M3 S16000',
      'G0 Z5',
      '#<z>=-2',
      'o1 while [#<z> GE -6]',
      'G0 X30 Y40',
      'G1 Z#<z> F250', // 5
      'G1 X70 F1600',
      'G0 Z5',
      '#<z>=[#<z>-2]',
      'o1 endwhile',
      'G0 Z20',
      'M30',
    )
    const bench = onBench(text, sheetWith())
    expect(said(bench, 6, 'X70')).toContain('This line is run 3 times. What follows is pass 3, the deepest.')
    expect(said(bench, 6, 'X70')).toContain('**14 mm left under the bit**')
  })

  test('in a subprogram: from which line it is called', () => {
    const text = lines(
      'o100 sub',
      'G1 Z#1 F250',
      'G1 X70 F1600',
      'o100 endsub',
      'G21 G90 M3 S16000',
      'G0 Z5',
      'G0 X30 Y30',
      'o100 call [-3]', // 7
      'G0 Z5',
      'G0 X30 Y50',
      'o100 call [-1]',
      'G0 Z20',
      'M30',
    )
    const words = said(onBench(text, sheetWith()), 2, 'X70')
    expect(words).toContain('This line is run 2 times. What follows is pass 1, the deepest, called from line 8.')
    expect(words).toContain('to X70 Y30 Z-3 mm')
  })

  test('a drilling cycle is one pass of many moves, and is as deep as it went', () => {
    const text = lines('G21 G90 M3 S16000 F300', 'G0 X10 Y10 Z5', 'G81 X20 Z-4 R1', 'G80', 'G0 Z20', 'M30')
    const words = said(onBench(text, sheetWith()), 2, 'Z-4')
    expect(words).toContain('4 mm under the face; **16 mm left under the bit**')
    expect(words).not.toContain('This line is run')
  })
})
