/** One mistake of the first draft: what was written instead of what, and what should be found. */
interface Slip {
  readonly file: string
  /** The slip is on the first line below this heading that holds `right`. */
  readonly below: string
  readonly right: string
  /** Undefined: the line was lost. */
  readonly wrong?: string
  /** The words at fault, on the same line or on the first below that holds them. */
  readonly words: string
  readonly code: string
  readonly told: string
}

const SLIPS: readonly Slip[] = [
  {
    file: 'plug.nc',
    below: '(moat round the motif, from the outside in, 0.25 left on the wall)',
    right: 'Z1',
    wrong: 'Z-1',
    words: 'Z-1',
    code: 'plunge/rapid',
    told: 'A minus too many: the rapid goes 1 mm into the walnut at full travel speed.',
  },
  {
    file: 'plug.nc',
    below: '(moat, level 2 of 5, Z-3.2)',
    right: 'F1200',
    wrong: 'F3200',
    words: 'F3200',
    code: 'feed/chip-load-high',
    told: 'One digit: each tooth bites 0.089 mm where 0.06 is the most. A 4 mm bit breaks.',
  },
  {
    file: 'plug.nc',
    below: '(wall, turn 2, down to Z-3.2)',
    right: '(wall, turn 3, down to Z-4.8)',
    wrong: '(wall, turn 3, down to Z-4.8',
    words: '(wall, turn 3, down to Z-4.8',
    code: 'syntax/unclosed-comment',
    told: 'The bracket is lost: the machine stops with an error, in the middle of the wall.',
  },
  {
    file: 'pocket.nc',
    below: '(rough the pocket, 0.25 left on the wall)',
    right: 'G1 Z0 F250',
    wrong: 'G1 Z0',
    words: 'G1',
    code: 'feed/missing',
    told: 'No feed has been said yet: the machine refuses, or goes at whatever feed it last had.',
  },
  {
    file: 'pocket.nc',
    below: '(pocket, level 2 of 5, Z-3)',
    right: 'Z-1.875',
    wrong: 'Z-2.175',
    words: 'Z-2.175',
    code: 'plunge/too-steep',
    told: 'A digit: the first turn of the helix goes down at 4.1 degrees where the bit takes 3.',
  },
  {
    file: 'pocket.nc',
    below: '(pocket, level 3 of 5, Z-4.5)',
    right: 'G1',
    wrong: 'G0',
    words: 'G0',
    code: 'motion/rapid-through-stock',
    told: 'G0 for G1: from the foot of the helix to the wall at full travel speed, through 1.5 mm of maple.',
  },
  {
    file: 'level.nc',
    below: '(in the spindle: 25 mm surfacing bit)',
    right: 'M3',
    wrong: 'M5',
    words: 'M5',
    code: 'spindle/stopped',
    told: 'M5 for M3: the surfacing bit is pushed into the edge of the dish standing still.',
  },
  {
    file: 'level.nc',
    below: '(in the spindle: 25 mm surfacing bit)',
    right: 'G0 Z15',
    words: 'X-16',
    code: 'motion/unsafe-start',
    told: 'The line that lifts the bit first was lost: it travels at whatever height it stands.',
  },
  {
    file: 'cavity.nc',
    below: '(rough the cavity, 0.4 left on wall and floor)',
    right: 'G1 Z0 F300',
    wrong: 'G1 Z-1 F300',
    words: 'Z-1',
    code: 'plunge/not-centre-cutting',
    told: 'Straight down 1 mm before the ramp begins, with a bit that has no teeth at its centre.',
  },
  {
    file: 'cavity.nc',
    below: '(finish the floor)',
    right: 'Z-18',
    wrong: 'Z-18',
    words: 'Z-18',
    code: 'depth/thin-floor',
    told: 'Nothing is wrong with this line; copy B was planed again, to 22.5, and nobody looked: its floor comes out at 3.9.',
  },
  {
    file: 'cavity.nc',
    below: '(finish the floor)',
    right: 'Z-18',
    wrong: 'Z-18',
    words: 'Z-18',
    code: 'inlay/not-revealed',
    told: 'Nor here: copy C is 25.3 thick, and the fern is reached by 0.1 only where 0.3 is the least.',
  },
  {
    file: 'outline.nc',
    below: '(in the spindle: 6 mm up-cut)',
    right: 'S16000',
    wrong: 'S26000',
    words: 'S26000',
    code: 'spindle/out-of-range',
    told: 'More than the bit is rated for and the spindle does.',
  },
  {
    file: 'outline.nc',
    below: '(outline, level 3 of 10, Z17.2)',
    right: 'Z17.2',
    wrong: 'Z16.2',
    words: 'Z16.2',
    code: 'depth/pass-too-deep',
    told: 'One digit: 3.6 mm in one pass where the bit should take 3.',
  },
  {
    file: 'outline.nc',
    below: '(outline, level 10 of 10, Z-0.2, with tabs)',
    right: 'Z-0.2',
    wrong: 'Z-1.2',
    words: 'Z-1.2',
    code: 'depth/below-stock',
    told: 'One digit: 1.2 mm into the table; half a millimetre was allowed.',
  },
]

export interface Expected {
  readonly file: string
  /** 0-based, as are the columns, which count UTF-16 code units. */
  readonly line: number
  readonly start: number
  readonly end: number
  readonly code: string
}

/**
 * The fern dish as first written down: its programs with the slips above, its sheet with two copies measured anew, what
 * should be found, and the list of it for people.
 */
export function firstDraft(programs: ReadonlyMap<string, string>, sheet: string): Map<string, string> {
  const files = new Map<string, string>()
  const expected: { slip: Slip; at: Expected }[] = []
  for (const [file, text] of programs) {
    const lines = text.split('\n')
    const slips = SLIPS.filter(slip => slip.file === file)
    for (const slip of slips) slipIn(lines, slip)
    for (const slip of slips) expected.push({ slip, at: placeOf(lines, slip) })
    files.set(file, lines.join('\n'))
  }
  files.set('fern-dish-first-draft.jobsheet.json', draftSheet(sheet))
  files.set('expected.json', `[\n${expected.map(({ at }) => `  ${spaced(at)}`).join(',\n')}\n]\n`)
  files.set('README.md', readme(expected))
  return files
}

function slipIn(lines: string[], { file, below, right, wrong }: Slip): void {
  const at = lines.findIndex((line, i) => i > lines.indexOf(below) && line.includes(right))
  if (!lines.includes(below) || at < 0) throw new Error(`${file}: no ${right} below ${below}`)
  if (wrong === undefined) lines.splice(at, 1)
  else lines[at] = lines[at].replace(right, wrong)
}

function placeOf(lines: readonly string[], { file, below, words, code }: Slip): Expected {
  const line = lines.findIndex((text, i) => i > lines.indexOf(below) && text.includes(words))
  const start = lines[line].indexOf(words)
  return { file, line, start, end: start + words.length, code }
}

function draftSheet(sheet: string): string {
  const copies = '"copies": { "A": { "thickness": 24.1 }, "B": { "thickness": 23.6 } }'
  if (!sheet.includes(copies)) throw new Error('the sheet of the fern dish lists other copies')
  return sheet
    .replace(
      'Two blanks were planed, and not to the same thickness.',
      'Three blanks were planed, the second once more.',
    )
    .replace('"title": "Fern dish, walnut in maple"', '"title": "Fern dish, first draft"')
    .replace(copies, '"copies": { "A": { "thickness": 24.1 }, "B": { "thickness": 22.5 }, "C": { "thickness": 25.3 } }')
}

const spaced = (at: Expected): string =>
  JSON.stringify(at)
    .replaceAll(/([,:{])(?=["\d])/g, '$1 ')
    .replace('}', ' }')

function readme(expected: readonly { slip: Slip; at: Expected }[]): string {
  const rows = expected.map(
    ({ slip, at }) => `| \`${at.file}\` | ${at.line + 1} | \`${slip.words}\` | \`${at.code}\` | ${slip.told} |`,
  )
  return `# Fern dish, first draft

The same dish as in \`../fern-dish\`, as it was first written down. Read that one first: there every number is right.
Here ${expected.length} things are wrong, each a slip such as a hand makes. Do not cut this.

## What should be found

Exactly these, at exactly these words, and nothing else. Two of them have their cause in no program but in the sheet,
in the thicknesses of copies B and C: the programs were not looked at again when those were measured.

| program | line | words | finding | what it is and what would happen |
| --- | --- | --- | --- | --- |
${rows.join('\n')}

\`expected.json\` says the same for tests: lines and columns from 0, columns in UTF-16 code units.

The order of work and the cautions are those of \`../fern-dish\`.
`
}
