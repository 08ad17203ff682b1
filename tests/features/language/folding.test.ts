import { describe, expect, test } from 'vitest'
import { foldsOf } from '../../../server/src/features/language/folding.ts'
import { BAD_TEXTS, reading } from './marked.ts'

/** The text with the folds drawn before it: `+` where one begins, `|` within, `'` where it ends. */
function drawn(source: string): string {
  const { text, program } = reading(source.replace(/^\n/, '').replace(/^ +/gm, '').trimEnd())
  const folds = foldsOf(text, program)
  const lines = Array.from({ length: text.lineCount }, (_, line) => {
    const marks = folds.map(({ firstLine, lastLine, kind }) => {
      if (line === firstLine) return kind === 'comment' ? '*' : '+'
      if (line === lastLine) return "'"
      return line > firstLine && line < lastLine ? '|' : ' '
    })
    return `${marks.join('')} ${text.line(line)}`.trimEnd()
  })
  return lines.join('\n')
}

/** Takes the drawing as it stands in a test. */
function drawing(source: string): string {
  const lines = source.replace(/^\n/, '').trimEnd().split('\n')
  const indent = Math.min(
    ...lines.filter(line => line.trim() !== '').map(line => line.length - line.trimStart().length),
  )
  return lines.map(line => line.slice(indent).trimEnd()).join('\n')
}

describe('folding', () => {
  test('operations, without the empty lines behind them, and runs of comments', () => {
    expect(
      drawn(`
        (dish)
        (walnut, best face up)
        ; 6 mm flat
        G21 F900

        (outline)
        G0 X0 Y0 Z5
        G1 X10

        (hole)
        (with care)
        G0 X5
        G1 Z-1
        `),
    ).toBe(
      [
        '*   (dish)',
        '|   (walnut, best face up)',
        "'   ; 6 mm flat",
        '    G21 F900',
        '',
        ' +  (outline)',
        ' |  G0 X0 Y0 Z5',
        " '  G1 X10",
        '',
        '  + (hole)',
        '  | (with care)',
        '  | G0 X5',
        "  ' G1 Z-1",
      ].join('\n'),
    )
  })

  test('levels: the way down and the cut at one height', () => {
    expect(
      drawn(`
        G21 F900
        (slot)
        G0 X0 Y0 Z5
        G1 Z-1
        X50
        G0 Z5
        X0
        G1 Z-2
        X50
        G0 Z5
        `),
    ).toBe(
      drawing(`
            G21 F900
        +   (slot)
        |   G0 X0 Y0 Z5
        |+  G1 Z-1
        ||  X50
        ||  G0 Z5
        |'  X0
        | + G1 Z-2
        | | X50
        '' G0 Z5
        `).replace("'' G0", "' ' G0"),
    )
  })

  test('a piece of a helix, and many heights of a surface, are no levels', () => {
    const helix = 'G0 X0 Y0 Z0 F900\nG3 X0 Z-1 I10\nG1 X0.5\nG1 X100 Z-2\nG1 X0\nG0 Z5'
    expect(foldsOf(...both(`(pocket)\n${helix}`))).toHaveLength(1)
    const coil = Array.from({ length: 20 }, (_, i) => `G3 X0 Z${-i / 10} I10\nG1 X1\nX0`).join('\n')
    expect(foldsOf(...both(`(wall)\nG0 X0 Y0 Z0 F900\n${coil}`))).toHaveLength(1)
    const surface = Array.from({ length: 300 }, (_, i) => `G1 Z${-i / 100}\nX${i % 2 ? 0 : 50}`).join('\n')
    expect(foldsOf(...both(`(bowl)\nG0 X0 Y0 Z1 F900\n${surface}`))).toHaveLength(1)
  })

  test('subprograms and the other blocks of O words', () => {
    expect(
      drawn(`
        o100 sub
        o1 if [#1 gt 2]
        G0 X1
        o1 else
        o2 do
        o2 while [0]
        o1 endif
        o100 endsub
        O200
        X1
        M99
        o3 repeat [2]
        `),
    ).toBe(
      drawing(`
        +    o100 sub
        |+   o1 if [#1 gt 2]
        ||   G0 X1
        ||   o1 else
        ||+  o2 do
        ||'  o2 while [0]
        |'   o1 endif
        '    o100 endsub
           + O200
           | X1
           ' M99
             o3 repeat [2]
        `),
    )
  })

  test.each(BAD_TEXTS)('bad text %# is answered, within its lines', source => {
    const { text, program } = reading(source)
    for (const { firstLine, lastLine } of foldsOf(text, program)) {
      expect(firstLine).toBeLessThan(lastLine)
      expect(lastLine).toBeLessThan(text.lineCount)
    }
  })
})

function both(source: string): Parameters<typeof foldsOf> {
  const { text, program } = reading(source)
  return [text, program]
}
