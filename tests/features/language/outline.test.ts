import { describe, expect, test } from 'vitest'
import { type Entry, outlineOf } from '../../../server/src/features/language/outline.ts'
import { BAD_TEXTS, reading } from './marked.ts'

/** One line an entry, indented as it is nested: kind, name, detail, lines, and the words to go to. */
function written(source: string): string[] {
  const { text, program } = reading(source.replace(/^\n/, '').replace(/^ +/gm, '').trimEnd())
  const lines = (entries: readonly Entry[], depth: number): string[] =>
    entries.flatMap(({ kind, name, detail, range: { start, end }, at, children }) => [
      `${'  '.repeat(depth)}${kind} ${name}${detail && ` = ${detail}`}, ${start.line}-${end.line}, at ${text.line(at.line).slice(at.start, at.end)}`,
      ...lines(children, depth + 1),
    ])
  return lines(outlineOf(text, program), 0)
}

describe('the outline', () => {
  test('has operations with their levels, bits and parameters', () => {
    expect(
      written(`
        (dish)
        (bit 1: flat 6 mm, 2 flutes)
        G21 F900
        #<depth> = [2 * 3] (deepest)
        T1 M6

        (slot)
        G0 X0 Y0 Z5
        G1 Z-1
        X50
        G0 Z5 X0
        G1 Z-2.5
        X50
        G0 Z5

        (hole)
        T1
        T2 M6
        G0 X9
        G1 Z-[#<depth>]
        #<depth>=9
        G0 Z5
        `),
    ).toEqual([
      'parameter #<depth> = [2 * 3], 3-3, at #<depth>',
      'tool T1 = flat 6 mm, 2 flutes, 4-4, at T1',
      'operation slot, 6-13, at (slot)',
      '  level Z-1, 8-10, at G1 Z-1',
      '  level Z-2.5, 11-13, at G1 Z-2.5',
      'operation hole, 15-21, at (hole)',
      '  tool T2, 17-17, at T2',
    ])
  })

  test('has subprograms with what lies in them', () => {
    expect(
      written(`
        o<edge> sub
        #<a>=#1
        G0 X#<a>
        o<edge> endsub
        #<a>=3
        M2
        O200
        G0 X1
        M99
        `),
    ).toEqual([
      'subprogram O<edge>, 0-3, at <edge>',
      '  parameter #<a> = #1, 1-1, at #<a>',
      'parameter #<a> = 3, 4-4, at #<a>',
      'subprogram O200, 6-8, at 200',
    ])
  })

  test('of a program in inches has its levels in mm, like everything else', () => {
    expect(written('G20 F20\nG0 X0 Y0 Z1\nG1 Z-0.1\nX2\nG1 Z-0.2\nX0\n')).toEqual([
      'level Z-2.54, 2-3, at G1 Z-0.1',
      'level Z-5.08, 4-5, at G1 Z-0.2',
    ])
  })

  test.each(BAD_TEXTS)('bad text %#: every entry within the one around it, its words within itself', source => {
    const { text, program } = reading(source)
    const check = (entries: readonly Entry[], outer?: Entry): void => {
      for (const entry of entries) {
        const { start, end } = entry.range
        expect(entry.name).not.toBe('')
        expect(entry.at.line >= start.line && entry.at.line <= end.line).toBe(true)
        if (outer) expect(start.line >= outer.range.start.line && end.line <= outer.range.end.line).toBe(true)
        check(entry.children, entry)
      }
    }
    check(outlineOf(text, program))
  })
})
