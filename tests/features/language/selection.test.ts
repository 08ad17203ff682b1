import { describe, expect, test } from 'vitest'
import { selectionsAt } from '../../../server/src/features/language/selection.ts'
import type { Range } from '../../../server/src/syntax/source.ts'
import { BAD_TEXTS, marked, reading } from './marked.ts'

/** What is selected step by step; ranges of several lines as their line numbers. */
function grown(source: string): string[] {
  const { text, program, caret } = marked(source)
  return selectionsAt(text, program, [caret])[0].map(({ start, end }) =>
    start.line === end.line
      ? text.line(start.line).slice(start.character, end.character)
      : `lines ${start.line} to ${end.line}`,
  )
}

describe('a growing selection', () => {
  test('goes from number to word, words, line, level, operation, text', () => {
    expect(
      grown(`
      (slot)
      G0 X0 Y0 Z5 F900
      G1 Z-1
        N10 G1 X5|0 (across)
      G0 Z5
      X0
      G1 Z-2
      X50

      (next)
      G0 X0
      M2
      `),
    ).toEqual(['50', 'X50', 'N10 G1 X50', '  N10 G1 X50 (across)', 'lines 2 to 5', 'lines 0 to 7', 'lines 0 to 11'])
  })

  test('goes out bracket by bracket', () => {
    expect(grown('G1 X[1+[#<a>|*2]] Y3\nM2')).toEqual([
      '#<a>',
      '#<a>*2',
      '[#<a>*2]',
      '1+[#<a>*2]',
      '[1+[#<a>*2]]',
      'X[1+[#<a>*2]]',
      'G1 X[1+[#<a>*2]] Y3',
      'lines 0 to 1',
    ])
    expect(grown('#5=[#6|+1] #7=2')).toEqual(['#6', '#6+1', '[#6+1]', '#5=[#6+1]', '#5=[#6+1] #7=2'])
  })

  test('goes through blocks', () => {
    expect(grown('o1 sub\no2 if [1]\n|X1\no2 endif\no1 endsub\nM2')).toEqual([
      'X',
      'X1',
      'lines 1 to 3',
      'lines 0 to 4',
      'lines 0 to 5',
    ])
  })

  test('in a comment takes the comment, on an empty line the line', () => {
    expect(grown('G1 (wh|y) X1')).toEqual(['(why)', 'G1 (why) X1'])
    expect(grown('G1\n|\nX1')).toEqual(['', 'lines 0 to 2'])
  })

  test.each(BAD_TEXTS)('bad text %#: each within the next', source => {
    const { text, program } = reading(source)
    const places = [0, 1, 2, 5, 1e6].map(character => ({ line: 0, character }))
    const answers = selectionsAt(text, program, [...places, { line: 9_999, character: 1 }])
    expect(answers).toHaveLength(6)
    for (const ranges of answers) {
      expect(ranges.length).toBeGreaterThan(0)
      expect(ranges.every((range, i) => i === 0 || holds(range, ranges[i - 1]))).toBe(true)
    }
  })
})

function holds(outer: Range, inner: Range): boolean {
  const before = (a: Range['start'], b: Range['start']) =>
    a.line < b.line || (a.line === b.line && a.character <= b.character)
  return before(outer.start, inner.start) && before(inner.end, outer.end)
}
