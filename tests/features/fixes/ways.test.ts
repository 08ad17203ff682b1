import { describe, expect, test } from 'vitest'
import { checkUnit } from '../../../server/src/features/check.ts'
import { fixAll } from '../../../server/src/features/fixes/fixAll.ts'
import { ALL_RULES } from '../../../server/src/rules/all.ts'
import { memoryWorkspace } from '../../job/memoryWorkspace.ts'
import { FLAT_6, sheetWith } from '../../rules/job.ts'
import { SETTINGS } from '../sheet/bench.ts'
import { FILE, HEAD, mended, offers, TAIL, trialOf } from './bench.ts'

const bowl = HEAD.replace('flat 6 mm', 'bowl 6 mm, corner radius 1')
const along = (feed: string) => `G0 X-5 Y20\nZ-2\nG1 X65 ${feed}\n`

/** For each code: the program before, the title of what is offered, and the lines that take the place of others. */
const TABLE: [string, string, string, string, [string, string]][] = [
  ['feed/chip-load-high', HEAD, along('F4000'), 'Feed at 1920 mm/min instead of 4000 mm/min', ['F4000', 'F1920']],
  ['feed/chip-load-low', HEAD, along('F400'), 'Feed at 640 mm/min instead of 400 mm/min', ['F400', 'F640']],
  ['feed/over-machine', HEAD, along('F9000'), 'Feed at 5000 mm/min instead of 9000 mm/min', ['F9000', 'F5000']],
  [
    'feed/missing',
    HEAD,
    along('').replace('X65 ', 'X65'),
    'Feed at 1280 mm/min, in the middle of what 6 mm flat takes',
    ['X65', 'X65 F1280'],
  ],
  [
    'feed/missing',
    HEAD,
    'G0 X10 Y20\nZ1\nG1 Z-2\nX50\nG0 Z10\nX10 Y10\nZ1\nG1 Z-1\nX50\n',
    'Feed at 1280 mm/min, in the middle of what 6 mm flat takes, and go down at 280 mm/min and more, in 4 words',
    [
      'G1 Z-2\nX50\nG0 Z10\nX10 Y10\nZ1\nG1 Z-1\nX50',
      'G1 Z-2 F280\nX50 F1280\nG0 Z10\nX10 Y10\nZ1\nG1 Z-1 F280\nX50 F1280',
    ],
  ],
  [
    'plunge/too-fast',
    HEAD,
    'G0 X10 Y20\nZ1\nG1 Z-2 F1200\nX50\n',
    'Go down at 280 mm/min instead of 1200 mm/min',
    ['Z-2 F1200\nX50', 'Z-2 F280\nX50 F1200'],
  ],
  [
    'plunge/rapid',
    HEAD,
    'G0 X10 Y20\nZ-2\nG1 X50 F800\n',
    'Stop at Z1 and come down along the next move and back, 2 times at 1.5 degrees',
    ['Z-2\nG1', 'Z1\nG1 Z0.1 F288\nX50 Z-0.95\nX10 Z-2\nG1'],
  ],
  [
    'plunge/not-centre-cutting',
    bowl,
    'G0 X10 Y20\nZ1\nG1 Z-2 F300\nX50 F1200\n',
    'Come down along the next move and back, 2 times at 1.5 degrees, instead of straight down',
    ['Z-2 F300', 'Z0.1 F300\nX50 Z-0.95\nX10 Z-2'],
  ],
  [
    'plunge/too-steep',
    bowl,
    'G0 X10 Y20\nZ1\nG1 Z0 F300\nX20 Z-2\nX50 F1200\n',
    'Ramp to and fro, 5 times over 10 mm, at 2.3 degrees',
    ['X20 Z-2', 'X20 Z-0.4\nX10 Z-0.8\nX20 Z-1.2\nX10 Z-1.6\nX20 Z-2'],
  ],
  [
    'plunge/too-steep',
    bowl,
    'G0 X30 Y20\nZ1\nG1 Z0 F300\nG3 Z-2 I-4\nG3 I-4 F1200\n',
    'Go round 2 times instead of once, at 2.3 degrees',
    ['G3 Z-2 I-4', 'G3 Z-1 I-4\nZ-2 I-4'],
  ],
  [
    'plunge/not-centre-cutting',
    bowl,
    'G0 X10 Y20\nZ1\nG1 Z-1 F300\nX50 Z-2\nX10\nX50 F1200\n',
    'Come down along the next move and back, 2 times at 0.8 degrees, instead of straight down',
    ['Z-1 F300', 'Z0.1 F300\nX50 Z-0.45\nX10 Z-1'],
  ],
  [
    'motion/rapid-through-stock',
    HEAD,
    'G0 X-5 Y20\nZ-2\nG1 X20 F1200\nG0 X40\nX50 Y30\nG1 X65\n',
    'Make it and the moves after it cut at 1200 mm/min',
    ['G0 X40', 'G1 X40'],
  ],
  [
    'motion/rapid-through-stock',
    HEAD,
    'G0 X-5 Y20\nZ-2\nG1 X20 F1200\nG0 X40\nG1 X65\n',
    'Make it a cutting move at 1200 mm/min',
    ['G0 X40', 'G1 X40'],
  ],
  [
    'motion/low-travel',
    HEAD,
    'G0 X-5 Y20\nZ-2\nG1 X10 F1200\nG0 Z0.5\nX50 Y10\nG1 Z-1 F200\nX65 F1200\n',
    'Raise it to Z1.5',
    ['Z0.5', 'Z1.5'],
  ],
  ['depth/below-stock', HEAD, 'G0 X-5 Y20\nZ-15\nG1 X65 F1200\n', 'Go no deeper than Z-14', ['Z-15', 'Z-14']],
  [
    'depth/pass-too-deep',
    HEAD,
    'G0 X-5 Y20\nZ-5\nG1 X65 F1200\n',
    'Cut it in 2 levels of at most 2.5 mm',
    ['Z-5\nG1 X65 F1200', 'Z-2.5\nG1 X65 F1200\nG0 Z10\nX-5 Y20\nG0 Z-5\nG1 X65 F1200'],
  ],
  [
    'spindle/out-of-range',
    HEAD.replace('S16000', 'S30000'),
    along('F1900'),
    'Turn at S24000 instead of S30000',
    ['S30000', 'S24000'],
  ],
  ['spindle/no-speed', HEAD.replace('S16000 ', ''), along('F1200'), 'Start it at S15000', ['M3', 'M3 S15000']],
  [
    'spindle/stopped',
    HEAD.replace(' M3', ''),
    along('F1200'),
    'Start the spindle before line 5, at S16000',
    ['S16000\n', 'S16000\nM3\n'],
  ],
  [
    'program/no-units',
    HEAD.replace('G21 ', ''),
    along('F1200'),
    'Say that lengths are in millimetres (G21)',
    ['G90 G17', 'G21\nG90 G17'],
  ],
  ['syntax/bad-number', HEAD, along('F12O0'), 'Write F1200', ['F12O0', 'F1200']],
  ['syntax/bad-number', HEAD, along('F1200').replace('X-5', 'X-5,5'), 'Write X-5.5', ['X-5,5', 'X-5.5']],
  [
    'syntax/unclosed-comment',
    HEAD,
    along('F1200 (across'),
    'Close the comment at the end of its line',
    ['(across', '(across)'],
  ],
  [
    'arc/ends-differ',
    HEAD,
    'G0 X-5 Y20\nZ-2\nG1 X20 F1200\nG3 X30 Y30 I0.1 J10\nG0 Z5\n',
    'Put the centre as far from both ends: I0.05 J9.95',
    ['I0.1 J10', 'I0.05 J9.95'],
  ],
  [
    'arc/ends-differ',
    HEAD,
    'G0 X-5 Y20\nZ-2\nG1 X20 F1200\nG3 X30 Y30 J-10\nG0 Z5\n',
    'Write J10 for J-10: the centre is then as far from both ends',
    ['J-10', 'J10'],
  ],
  [
    'arc/ends-differ',
    HEAD,
    'G0 X-5 Y20\nZ-2\nG1 X20 F1200\nG3 X30 Y30 J4.7\nG1 Y45\nG0 Z5\n',
    'Put the centre as far from both ends: J10',
    ['J4.7', 'J10'],
  ],
  [
    'arc/no-centre',
    HEAD,
    'G0 X-5 Y20\nZ-2\nG1 X20 F1200\nG3 X30 Y30\nG1 Y45\nG0 Z5\n',
    'Put the centre as far from both ends: J10',
    ['X30 Y30', 'X30 Y30 J10'],
  ],
  ['syntax/duplicate-word', HEAD, along('F1200').replace('X65', 'X65 X65'), 'Write X65 once', ['X65 X65', 'X65']],
  [
    'syntax/bad-number',
    HEAD,
    `rough it now\n${along('F1200')}`,
    'Make a remark of it: (rough it now)',
    ['rough it now', '(rough it now)'],
  ],
  [
    'arc/radius-too-small',
    HEAD,
    'G0 X-5 Y20\nZ-2\nG1 X20 F1200\nG3 X40 Y20 R9.9\nG0 Z5\n',
    'Make it a half circle: R10',
    ['R9.9', 'R10'],
  ],
  [
    'allow/unused',
    HEAD,
    `(allow plunge/rapid: none)\n${along('F1200')}`,
    'Take this comment away',
    ['(allow plunge/rapid: none)\n', ''],
  ],
]

test.each(TABLE)('%s is cured', async (code, head, body, title, [from, to]) => {
  const text = head + body + TAIL
  const offered = await mended(text, code)
  expect(offered.map(each => each.title)).toContain(title)
  const chosen = offered.find(each => each.title === title)!
  expect(chosen.text).toBe(text.replace(from, to))
  // Once more by itself: the finding is gone, and none has come.
  const codes = async (program: string) =>
    (await checkUnit(memoryWorkspace({ 'a.nc': program }), FILE, SETTINGS)).findings.map(each => each.code)
  const [before, after] = [await codes(text), await codes(chosen.text)]
  expect(after).not.toContain(code)
  expect(after.filter(each => !before.includes(each))).toEqual([])
})

describe('of the ends of a program', () => {
  test('the height, the end, and the start', async () => {
    const low = `${HEAD}${along('F1200')}M5\nM2\n`
    expect(await mended(low, 'motion/ends-low')).toEqual([
      { title: 'Lift to Z1.5 at the end', text: low.replace('M5', 'G0 Z1.5\nM5') },
    ])
    const open = (HEAD + along('F1200') + TAIL).replace('M2\n', '')
    expect(await mended(open, 'program/no-end')).toEqual([{ title: 'End the program with M2', text: `${open}M2\n` }])
    const blind = (HEAD + along('F1200') + TAIL).replace('G0 Z10\n', '')
    expect(await mended(blind, 'motion/unsafe-start')).toEqual([
      { title: 'Lift to Z10 first', text: blind.replace('G0 X-5', 'G0 Z10\nG0 X-5') },
    ])
  })
})

test('round a circle a bit comes down in a helix', async () => {
  const text = `${bowl}G0 X30 Y20\nZ1\nG1 Z-2 F300\nG3 I-8 F1200\n${TAIL}`
  const [helix] = await mended(text, 'plunge/not-centre-cutting')
  expect(helix.title).toBe(
    'Come down in one turn round the circle that follows, at 2.4 degrees, instead of straight down',
  )
  expect(helix.text).toBe(text.replace('Z-2 F300\nG3 I-8', 'Z0.1 F300\nG3 Z-2 I-8\nG3 I-8'))
})

test('nothing is offered that would raise another finding', async () => {
  // Straight down at feed instead of at rapid would end on a floor that is seen, and no way is straight to ramp along.
  expect(await mended(`${HEAD}G0 X10 Y20\nZ-2\nG3 X20 I5 F800\n${TAIL}`, 'plunge/rapid')).toEqual([])
})

test('of two words that differ a person chooses', async () => {
  const text = `${HEAD}${along('F1200').replace('X65', 'X65 X64')}${TAIL}`
  const offered = await mended(text, 'syntax/duplicate-word')
  expect(offered).toEqual([
    { title: 'Keep X65 and take X64 away', text: text.replace('X65 X64', 'X65') },
    { title: 'Keep X64 and take X65 away', text: text.replace('X65 X64', 'X64') },
  ])
  expect((await fixAll(await trialOf({ 'a.nc': text }), FILE)).fixed).toBe(0)
})

test('every feed with its point in the wrong place', async () => {
  const cuts = Array.from({ length: 12 }, (_, n) => `G0 Y${3 * n}\nG1 X${n % 2 ? -5 : 65} F${15000 + 100 * n}\n`)
  const body = `G0 X-5 Y0\nZ-2\n${cuts.join('')}`
  const files = {
    'part.nc': `G21 G90 G17\nS16000 M3\nG0 Z10\n${body}${TAIL}`,
    'job.jobsheet.json': JSON.stringify(sheetWith({ bits: { 1: { ...FLAT_6, chipLoad: [0.02, 0.06] } } })),
  }
  const trial = await trialOf(files, 'file:///job/job.jobsheet.json')
  const finding = trial.checked.findings.find(({ code }) => code === 'feed/over-machine')!
  const offered = await offers(trial, finding, files['part.nc'])
  expect(offered.at(-1)).toEqual({
    title: 'Every feed a tenth of what it is, in 12 words',
    text: files['part.nc'].replace(/(F\d+)0\n/g, '$1\n'),
  })
})

test('a rapid that is lifted is down again before the next cut, wherever that begins', async () => {
  const body = 'G0 X-5 Y20\nZ-2\nG1 X20 F1200\nG0 X40\nX66 Y30\nG1 X50\n'
  const [fix] = await mended(HEAD + body + TAIL, 'motion/rapid-through-stock')
  expect(fix.text).toBe(
    HEAD + body.replace('G0 X40\nX66 Y30\nG1 X50', 'G0 Z1.5\nG0 X40\nX66 Y30\nG1 Z-2 F288\nG1 X50 F1200') + TAIL,
  )
})

test('over a clamp that a rapid would run into', async () => {
  const body = 'G0 X10 Y10\nZ1\nG1 Z-1 F280\nX20 F1200\nG0 Z5\nX50 Y10\nG1 Z-1 F280\nX60 F1200\n'
  const keepOut = [
    {
      setup: 'part',
      box: [
        [30, 0],
        [40, 20],
      ],
      height: 12,
    },
  ]
  const files = {
    'part.nc': `G21 G90 G17\nS16000 M3\nG0 Z20\n${body}G0 Z20\nM5\nM2\n`,
    'job.jobsheet.json': JSON.stringify({ ...sheetWith({ bits: { 1: FLAT_6 } }), keepOut }),
  }
  const trial = await trialOf(files, 'file:///job/job.jobsheet.json')
  const finding = trial.checked.findings.find(({ code }) => code === 'motion/keep-out')!
  const [fix] = await offers(trial, finding, files['part.nc'])
  expect(fix.text).toContain('G0 Z13.5\nX50 Y10\nG1')
})

test('a code that the machine does not know is left out, or another is written that it knows', async () => {
  const text = `${HEAD.replace('G17', 'G17 G64')}${along('F1200')}M48\n${TAIL}`
  const settings = { ...SETTINGS, dialect: { base: 'compact', add: [], remove: [] } as const }
  const trial = await trialOf({ 'a.nc': text })
  const checked = await checkUnit(trial.workspace, FILE, settings, trial.kept)
  const found = checked.findings.filter(({ code }) => code === 'syntax/not-in-dialect')
  const offered = []
  for (const finding of found) offered.push(...(await offers({ ...trial, checked, settings }, finding, text)))
  expect(offered).toEqual([
    { title: 'Leave G64 out', text: text.replace(' G64', '') },
    { title: 'Leave M48 out', text: text.replace('M48', '') },
  ])
})

describe('which bit is in the spindle', () => {
  const two = HEAD.replace('G21', '(bit 2: flat 4 mm, 2 flutes, cutting length 22, chip load 0.02-0.06)\nG21')

  test('is asked of the person', async () => {
    const text = two + along('F1200') + TAIL
    const offered = await mended(text, 'tool/none')
    expect(offered.map(({ title }) => title)).toEqual([
      'Say that T1 (6 mm flat) is in the spindle',
      'Say that T2 (4 mm flat) is in the spindle',
    ])
    expect(offered[1].text).toBe(text.replace('G0 Z10\n', 'T2\nG0 Z10\n'))
    // Not where all is mended at once.
    const trial = await trialOf({ 'a.nc': text })
    expect((await fixAll(trial, FILE)).fixed).toBe(0)
  })

  test('and where a number is no bit, which was meant', async () => {
    const text = HEAD.replace('S16000', 'T3 S16000') + along('F1200') + TAIL
    const offered = await mended(text, 'tool/unknown')
    expect(offered).toEqual([{ title: 'Write T1 (6 mm flat)', text: text.replace('T3', 'T1') }])
  })
})

test('onto a floor that is seen a bit comes along the next move', async () => {
  const text = `${HEAD}G0 X10 Y20\nZ1\nG1 Z-2 F280\nX50 F1200\n${TAIL}`
  const [ramp] = await mended(text, 'plunge/onto-floor')
  expect(ramp.title).toBe('Come down along the next move and back, 2 times at 1.5 degrees, instead of straight down')
  expect(ramp.text).toBe(text.replace('Z-2 F280', 'Z0.1 F280\nX50 Z-0.95\nX10 Z-2'))
})

test('a digit of a depth goes wrong, and the usual step is taken', async () => {
  const levels = ['-0.5', '-1', '-1.5', '-3', '-2.5', '-3.5'].map((z, n) => `Z${z}\nG1 X${n % 2 ? -5 : 65} F1200\nG0`)
  const text = `${HEAD}G0 X-5 Y20\n${levels.join(' ')} Z10\nM5\nM2\n`
  const [fix] = await mended(text, 'depth/odd-step')
  expect(fix.title).toBe('Go to Z-2 instead, 0.5 mm below the level before it')
  expect(fix.text).toBe(text.replace('Z-3\n', 'Z-2\n'))
})

test('a cure belongs to a rule that is there, and no rule has one that nobody knows', () => {
  const cured = ALL_RULES.filter(({ fix }) => fix !== undefined)
  expect(cured.length).toBeGreaterThan(30)
})
