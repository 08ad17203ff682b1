import { describe, expect, test } from 'vitest'
import { programFigures } from '../../../server/src/job/figures/programFigures.ts'
import { readProgram } from '../../../server/src/machine/readProgram.ts'
import {
  BARE_6,
  BOWL_20,
  checkPart,
  DOWN_4,
  dish,
  FLAT_6,
  ids,
  linesOf,
  offered,
  questionAt,
  SURFACING_25,
  withOperation,
} from './jobs.ts'

/** A program with a place between its beginning and its end. */
const MM = ['G21 G90 G17 G94', 'T1 M6', 'M3 S16000', 'G0 Z20', '', 'G0 Z20', 'M5', 'M30'].join('\n')
const INCH = ['G20 G90 G17 G94', 'T1 M6', 'M3 S16000', 'G0 Z1', '', 'G0 Z1', 'M5', 'M30'].join('\n')
const NO_TOOL = MM.replace('T1 M6\n', '\n')
const PLACE = 4

const small = (bits: object, changes: Parameters<typeof dish>[1] = {}) =>
  dish(bits, { blank: { size: [90, 66, 18] }, ...changes })

/** Every operation that is offered at a place, put there: the findings that the job then has and did not have before. */
function raisedBy(text: string, sheet: object, line = PLACE): Record<string, string[]> {
  const before = new Set(checkPart(text, sheet).findings.map(({ code, message }) => `${code}: ${message}`))
  const question = questionAt(text, sheet, line)
  const raised: Record<string, string[]> = {}
  for (const id of offered(question)) {
    const { findings } = checkPart(withOperation(text, line, linesOf(question, id)), sheet)
    raised[id] = findings
      .map(({ code, message, range }) => `${code}: ${message} (line ${range.start.line})`)
      .filter(found => !before.has(found.replace(/ \(line \d+\)$/, '')))
  }
  return raised
}

const none = (names: readonly string[]) => Object.fromEntries(names.map(id => [id, []]))
const HOLLOWS = ['bore', 'ramp', 'rectangularPocket', 'roundPocket', 'wall']
const FLAT = ['bore', 'ramp', 'rectangularPocket', 'roundPocket', 'outline', 'level', 'wall']
const BOWL = ['bore', 'ramp', 'rectangularPocket', 'roundPocket', 'level', 'bowl', 'wall']

describe('what is inserted passes every check', () => {
  test.each<[string, string, object, readonly string[]]>([
    ['mm, 6 mm flat', MM, small({ 1: FLAT_6 }), FLAT],
    ['inches, 6 mm flat', INCH, small({ 1: FLAT_6 }), FLAT],
    ['mm, a bit of which only the size is known', MM, small({ 1: BARE_6 }), FLAT],
    ['mm, a down spiral that ramps at 3°', MM, small({ 1: DOWN_4 }), FLAT],
    ['mm, a bit that does not cut at its centre', MM, dish({ 1: SURFACING_25 }), FLAT],
    ['mm, a bowl bit', MM, dish({ 1: BOWL_20 }), BOWL],
    ['inches, a bowl bit', INCH, dish({ 1: BOWL_20 }), BOWL],
    [
      'a vee bit: the wall alone',
      MM,
      small({ 1: { diameter: 12, shape: 'vee', angle: 60, tipDiameter: 0.2, cuttingLength: 10 } }),
      ['wall'],
    ],
    [
      'a vee bit that takes little at once',
      MM,
      small({ 1: { diameter: 12, shape: 'vee', angle: 60, tipDiameter: 0.2, cuttingLength: 10, maxPassDepth: 1 } }),
      ['wall'],
    ],
    ['a tapered bit', MM, small({ 1: { diameter: 6, shape: 'taper', angle: 10, tipDiameter: 2 } }), ['wall']],
    ['a ball-end bit', MM, small({ 1: { diameter: 8, shape: 'ball' } }), BOWL.filter(id => id !== 'level')],
    [
      'soft wood, a small bit',
      MM,
      small({ 1: { diameter: 3.175 } }, { blank: { size: [60, 50, 12], material: 'pine' } }),
      FLAT,
    ],
    [
      'the compact dialect, no change of bits',
      NO_TOOL,
      small({ 1: FLAT_6 }, { machine: { dialect: 'compact' } }),
      FLAT,
    ],
    ['the standard alone', MM, small({ 1: FLAT_6 }, { machine: { dialect: 'rs274ngc-strict' } }), FLAT],
    [
      'a router set by hand',
      NO_TOOL.replace('M3 S16000', ''),
      small({ 1: FLAT_6 }, { machine: { spindle: { manual: true, speed: 12000 } } }),
      FLAT,
    ],
    [
      'a weak, slow machine',
      MM,
      small({ 1: FLAT_6 }, { machine: { spindle: { min: 5000, max: 16000, power: 250 }, maxFeed: [1500, 1500, 400] } }),
      FLAT,
    ],
    ['the underside, spun', MM, small({ 1: FLAT_6 }, { setup: { face: 'underside', spin: 90 } }), FLAT],
    ['the zero in the middle', MM, small({ 1: FLAT_6 }, { setup: { zero: { x: 'centre', y: 'centre' } } }), FLAT],
    [
      'the zero on the bed, copies of two thicknesses',
      MM.replaceAll('Z20', 'Z40'),
      small(
        { 1: FLAT_6 },
        {
          setup: { zero: { z: 'bed' } },
          blank: { size: [90, 66, 18], copies: { A: { thickness: 18.3 }, B: { thickness: 17.6 } } },
        },
      ),
      FLAT,
    ],
    ['an empty program', '\n', small({ 1: FLAT_6 }), FLAT],
  ])('%s', (_name, text, sheet, names) => {
    expect(raisedBy(text, sheet, text === '\n' ? 0 : PLACE)).toEqual(none(names))
  })

  test('a cavity keeps floor and wall, worst case counted, and stays clear of clamps', () => {
    const cavity = {
      ...dish({ 1: BOWL_20 }, { setup: { makes: 'cavity' }, blank: { size: [150, 110, 24] } }),
      keepOut: [
        {
          setup: 'part',
          box: [
            [0, 50],
            [12, 90],
          ],
          height: 12,
        },
      ],
    }
    expect(raisedBy(MM, cavity)).toEqual(none([...HOLLOWS.slice(0, 4), 'bowl', 'wall']))
  })

  test('a round blank gets a round bowl', () => {
    const round = { ...dish({ 1: BOWL_20 }), blanks: { board: { diameter: 120, thickness: 28 } } }
    const question = questionAt(MM, round, PLACE)
    expect(checkPart(withOperation(MM, PLACE, linesOf(question, 'bowl')), round).findings).toEqual([])
    // A rounded rectangle whose corners meet is a circle: nothing but arcs round the wall.
    const wall = linesOf(question, 'bowl').slice(
      linesOf(question, 'bowl').indexOf('(bowl cavity: finish the wall)') + 5,
    )
    expect(wall.slice(0, 8).every(line => line.startsWith('G3 '))).toBe(true)
  })

  test('several bits in one program: each place has its own', () => {
    const text = [
      'G21 G90 G17 G94',
      'T1 M6',
      'M3 S16000',
      'G0 Z20',
      '(first)',
      'G0 X20 Y12',
      'G0 Z1',
      'G1 X40 Z-1 F600',
      'G0 Z20',
      'T2 M6',
      'M3 S14000',
      'G0 Z20',
      '(second)', // 12
      'G0 X60',
      'G0 Y12',
      'G0 Z1',
      'G1 X100 Z-1 F900',
      'G0 Z20',
      'M30',
    ].join('\n')
    const sheet = dish({ 1: FLAT_6, 2: BOWL_20 })
    expect(raisedBy(text, sheet, 4)).toEqual(none(FLAT))
    expect(raisedBy(text, sheet, 12)).toEqual(none(BOWL))
  })

  test('every operation of the catalogue is among these', () => {
    expect([...new Set([...FLAT, ...BOWL])].sort()).toEqual([...ids].sort())
  })
})

describe('what is inserted is what was asked for', () => {
  const sheet = small({ 1: FLAT_6 })
  const cut = (id: string, values: Record<string, number>, of = sheet) => {
    const lines = linesOf(questionAt(MM, of, PLACE), id, values)
    const { job } = checkPart(withOperation(MM, PLACE, lines), of)
    const run = job.copies[0].setups[0].run!
    return { run, figures: programFigures(run, job.sheet.machine), lines }
  }

  // Closed forms: a disc, a rectangle less its round corners (W D - (4 - pi) r²), a box; within what cells of 0.25 mm tell.
  test.each<[string, Record<string, number>, number]>([
    ['bore', { diameter: 10, depth: 5 }, Math.PI * 25 * 5],
    ['roundPocket', { diameter: 30, depth: 4 }, Math.PI * 225 * 4],
    ['rectangularPocket', { width: 40, height: 24, radius: 5, depth: 4 }, (40 * 24 - (4 - Math.PI) * 25) * 4],
    ['ramp', { x: 30, y: 33, toX: 60, toY: 33, depth: 3 }, (30 * 6 + Math.PI * 9) * 3],
    ['level', { depth: 0.5 }, 90 * 66 * 0.5],
  ])('%s takes as much as the closed form says', (id, values, volume) => {
    const { figures } = cut(id, values)
    expect(figures.removedVolume / volume).toBeCloseTo(1, 1.7)
    expect(figures.deepest?.depth).toBeCloseTo(values.depth, 3)
  })

  test('an outline leaves its tabs standing, and nothing else', () => {
    const { run, figures } = cut('outline', {
      width: 90,
      height: 60,
      radius: 8,
      depth: 18,
      tabs: 1,
      tabWidth: 5,
      tabHeight: 2,
    })
    expect(figures.deepest?.depth).toBeCloseTo(18, 3)
    const { grid } = run.after
    const columns = Array.from(run.after.layers[0].hi)
    // At the bottom of the groove the flat top of a tab and its flanks are all that is left: two tabs.
    const standing = columns.filter(hi => hi > 0.01 && hi < 2.01).length * grid.cell ** 2
    // Each at its top 5 mm and twice a flank of 2 / tan 30° on a groove 6 wide.
    const most = 2 * 6 * (5 + 6 + (2 * 2) / Math.tan(Math.PI / 6))
    expect(standing).toBeGreaterThan(2 * 5 * 6)
    expect(standing).toBeLessThan(most)
  })

  test('a bowl has its floor at the depth and its wall where it was asked for', () => {
    const of = dish({ 1: BOWL_20 })
    const { run, figures } = cut('bowl', { x: 75, y: 55, width: 100, height: 70, radius: 24, depth: 15 }, of)
    expect(figures.deepest?.depth).toBeCloseTo(15, 3)
    const { nx, cell } = run.after.grid
    const top = (x: number, y: number) => run.after.layers[0].hi[Math.floor(y / cell) * nx + Math.floor(x / cell)]
    expect(top(75, 55)).toBeCloseTo(9, 3)
    expect(top(75 - 50 + 6, 55)).toBeCloseTo(9, 2)
    expect(top(75 - 50 + cell, 55)).toBeLessThan(24)
    expect(top(75 - 50 - cell, 55)).toBe(24)
    expect(top(75, 55 + 35 + cell)).toBe(24)
  })

  test('the wall is met and left on an arc that touches it', () => {
    const { lines } = cut('wall', { x: 45, y: 33, width: 54, height: 36, radius: 6, depth: 3, lead: 3 })
    // The near side lies at 33 - 18 + 3 = 18; the arcs turn about (45, 21).
    expect(lines.filter(line => line.startsWith('G3 X45 Y18 '))[0]).toBe('G3 X45 Y18 I3 J0')
    expect(lines.filter(line => line.startsWith('G3 X48 Y21 '))[0]).toBe('G3 X48 Y21 I0 J3')
  })

  test('the wall of a vee bit has its size at the face and slants as the bit does', () => {
    const of = small({ 1: { diameter: 12, shape: 'vee', angle: 60, tipDiameter: 0.2, cuttingLength: 10 } })
    const { run } = cut('wall', { x: 45, y: 33, width: 54, height: 36, radius: 8, depth: 5, lead: 3 }, of)
    const { nx, cell } = run.after.grid
    const column = Math.floor(45 / cell)
    for (let row = Math.floor(15 / cell) + 1; (row + 0.5) * cell < 15 + 2.5; row++) {
      const y = (row + 0.5) * cell
      // Half of 60 degrees from the upright.
      // Ways are written to 0.01 mm: half of that aside is 0.0087 up the slope.
      expect(Math.abs(run.after.layers[0].hi[row * nx + column] - 18 + (y - 15) / Math.tan(Math.PI / 6))).toBeLessThan(
        0.009,
      )
    }
    expect(run.after.layers[0].hi[(Math.floor(15 / cell) - 1) * nx + column]).toBe(18)
  })

  test('what cannot be cut is refused with the reason', () => {
    const question = questionAt(MM, sheet, PLACE)
    expect(() => linesOf(question, 'bore', { diameter: 20 })).toThrow('keeps a core with this bit')
    expect(() => linesOf(question, 'bore', { diameter: 5 })).toThrow('diameter of the hole cannot be 5')
    expect(() => linesOf(question, 'rectangularPocket', { width: 8, height: 8 })).toThrow('longer than 10.8 mm')
    expect(() => linesOf(question, 'outline', { tabs: 9 })).toThrow('take fewer or lower ones')
    expect(() => linesOf(question, 'wall', { lead: 40 })).toThrow('do not fit inside')
    expect(() => linesOf(question, 'bowl')).toThrow('is not a bit for this')
    expect(() => linesOf(question, 'depth')).toThrow('no operation')
  })
})

describe('the rest of the program', () => {
  const text = [
    'g21g90m3s16000',
    'g0z12.5',
    'x20.25y12', // 2
    '',
    'y20', // 4
    'z1.',
    'g1x40.5z-1f600',
    'g0z12.5',
    'm30',
  ].join('\n')

  test('runs as before: its motions are the same, to the bit', () => {
    const sheet = small({ 1: FLAT_6 })
    for (const line of [2, 3, 8]) {
      const question = questionAt(text, sheet, line)
      const inserted = linesOf(question, 'bore')
      const after = readProgram(new TextEncoder().encode(withOperation(text, line, inserted)))
      expect(motionsOf(after, n => (n < line ? n : n < line + inserted.length ? -1 : n - inserted.length))).toEqual(
        motionsOf(question.program, n => n),
      )
    }
  })

  test('and is written as before: case, spacing, decimals', () => {
    const lines = linesOf(questionAt(text, small({ 1: FLAT_6 }), 3), 'ramp', { depth: 2 })
    expect(lines.slice(1, 6)).toEqual(['g0z12.5', 'x30.y33.', 'z1.', 'g1z0.2f270', 'x60.z-0.9f1450'])
    // The next line names Y alone: X is gone back to, and the feed that was in force is none.
    expect(lines.slice(-2)).toEqual(['g0z12.5', 'x20.25'])
  })

  test('the feed that was in force is so again', () => {
    const feed = text.replace('g0z12.5\nx20', 'g0z12.5f444\nx20')
    expect(linesOf(questionAt(feed, small({ 1: FLAT_6 }), 3), 'ramp').at(-1)).toBe('f444')
  })

  test('a feed in force that suits the bit is taken', () => {
    const own = MM.replace('G0 Z20', 'G0 Z20 F1234')
    expect(linesOf(questionAt(own, small({ 1: FLAT_6 }), PLACE), 'bore').some(line => line.includes('F1234'))).toBe(
      true,
    )
  })
})

/** The motions of the lines that belong to the program itself: each with the line that it was on. */
function motionsOf({ motions, states }: ReturnType<typeof readProgram>, lineOf: (line: number) => number): string[] {
  const found: string[] = []
  for (let i = 0; i < motions.count; i++) {
    const line = lineOf(motions.line[i])
    if (line < 0) continue
    const { feed, speed, spindle } = states[motions.state[i]]
    // A rapid has no feed of its own.
    const own = motions.kind[i] === 0 ? '' : feed
    found.push([line, motions.kind[i], motions.x[i], motions.y[i], motions.z[i], own, speed, spindle].join(' '))
  }
  return found
}

describe('where nothing can be inserted, the reason', () => {
  const why = (text: string, line: number, sheet = small({ 1: FLAT_6 })) => {
    try {
      return linesOf(questionAt(text, sheet, line), 'bore').length
    } catch (error) {
      return (error as Error).message
    }
  }

  test('says what to do', () => {
    const down = 'G21 G90 M3 S16000\nG0 Z5\nG0 X20 Y20\nG1 Z-1 F200\nG1 X40\nG0 Z5\nM30'
    expect(why(down, 4)).toContain('The bit is down here')
    expect(why(down, 7)).toContain('The program has ended')
    const loop = 'G21 G90 M3 S16000\nG0 Z5\no1 repeat [2]\nG0 X5\no1 endrepeat\nM30'
    expect(why(loop, 3)).toContain('in a loop or a subprogram')
    const goesOn = 'G21 G90 M3 S16000 F900\nG0 X5 Y5 Z5\nG1 X6\nX7\nG0 Z9\nM30'
    expect(why(goesOn, 3)).toContain('goes on with the code of the one before')
    const unknown = 'G21 G91 M3 S16000\nG0 X5\nG0 X5\nM30'
    expect(why(unknown, 2)).toContain('is not known')
    expect(why(MM.replace('T1 M6', ''), PLACE, small({ 1: FLAT_6, 2: DOWN_4 }))).toContain(
      'Which bit is in the spindle',
    )
    expect(why(MM.replace('T1', 'T7'), PLACE)).toContain('No bit 7 is declared')
    expect(why(MM.replace('G17', 'G41 D1'), PLACE)).toContain('write G40 first')
    const level = small({ 1: FLAT_6 }, { setup: { makes: 'level' } })
    expect(why(MM, PLACE, level)).toContain('makes something else (level)')
  })
})
