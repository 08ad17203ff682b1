import { describe, expect, test } from 'vitest'
import { rename, renameTarget } from '../../../server/src/features/language/rename.ts'
import { BAD_TEXTS, marked, reading } from './marked.ts'

/** The text after a rename, or why there is none. */
function renamed(source: string, to: string): string {
  const { text, caret } = marked(source)
  const target = renameTarget(text, caret)
  const result = rename(text, caret, to)
  if ('why' in result) return result.why
  expect(target).toHaveProperty('placeholder')
  const lines = Array.from({ length: text.lineCount }, (_, line) => text.line(line))
  for (const { span, text: put } of [...result.edits].reverse()) {
    lines[span.line] = lines[span.line].slice(0, span.start) + put + lines[span.line].slice(span.end)
  }
  return lines.join('\n')
}

describe('renaming', () => {
  test('a parameter', () => {
    expect(renamed('#5|=1\nX#05 Y[# 5+#50] (#5)', '#100')).toMatch(/belong/)
    expect(renamed('#5|=1\nX#05 Y[# 5+#50] (#5)', '7')).toBe('#7=1\nX#7 Y[#7+#50] (#5)')
    expect(renamed('#5=1\nX#5| Y[#5+#50]', '<depth of cut>')).toBe(
      '#<depth of cut>=1\nX#<depth of cut> Y[#<depth of cut>+#50]',
    )
    expect(renamed('#<a>=1\nX#<a>|', 'b_2')).toBe('#<b_2>=1\nX#<b_2>')
    expect(renamed('#<_a>=1\nX#<_A>|', '#<_b>')).toBe('#<_b>=1\nX#<_b>')
    expect(renamed('#<a>=1\nX#<a>|', '12')).toBe('#12=1\nX#12')
    expect(renamed('#<a>=1\nX#<a>|', 'A')).toBe('#<a>=1\nX#<a>')
  })

  test('a parameter of one subprogram leaves the others alone', () => {
    expect(renamed('#<a>=1\no1 sub\n#<a>=2\nX#<a>|\no1 endsub\nX#<a>', 'b')).toBe(
      '#<a>=1\no1 sub\n#<b>=2\nX#<b>\no1 endsub\nX#<a>',
    )
  })

  test('a subprogram, with its calls', () => {
    expect(renamed('o100 sub\no100 endsub\nO 100| call [1]', 'o<edge>')).toBe(
      'o<edge> sub\no<edge> endsub\nO <edge> call [1]',
    )
    expect(renamed('M98 P200| L2\nM30\nO0200\nM99', '300')).toBe('M98 P300 L2\nM30\nO300\nM99')
    expect(renamed('o1 if [1]\no1| endif', '2')).toBe('o2 if [1]\no2 endif')
  })

  test('a line number', () => {
    expect(renamed('N10| G0\nN20 G1', 'N30')).toBe('N30 G0\nN20 G1')
    expect(renamed('N10| G0\nN20 G1', '30')).toBe('N30 G0\nN20 G1')
  })

  test.each([
    ['#5|=1 #6=2', '6', /#6 is used on line 1/],
    ['#5|=1', '#', /letters, digits/],
    ['#5|=1', '<a', /letters, digits/],
    ['#5|=1', 'a;b', /letters, digits/],
    ['#5|=1', ' ', /letters, digits/],
    ['#5|=1', '0', /1 to 5000/],
    ['#5|=1', '6000', /1 to 5000/],
    ['#5|=1 X##6', '7', /works out the numbers/],
    ['#5220=1 X#5220|', '7', /machine/],
    ['X#33|', '34', /Nothing in this program sets/],
    ['#<a>|=1', '_a', /belong to all/],
    ['#<_a>|=1', 'a', /each subprogram alone/],
    ['o1 sub\nX#1|\no1 endsub\no1 call [2]', '2', /hands over/],
    ['o1 sub\n#<a>|=1\no1 endsub', '2', /hands over/],
    ['o1 sub\no1 endsub\no2 sub\no2 endsub\no1| call', '2', /O2 is used on line 3/],
    ['o1| call', '2', /not in this program/],
    ['o1 sub\no1 endsub\no1| call\no#1 call', '2', /which subprogram/],
    ['M98 P1|\nM30\no1\nM99', '<a>', /number only/],
    ['N10| G0\nN20 G1', '20', /Line 2 has the number N20/],
    ['N10| G0', '123456', /whole number/],
    ['N10| G0', 'ten', /whole number/],
    ['N3| T0*57', '4', /checksum/],
    ['G1 X1|', 'Y', /Nothing here has a name/],
  ])('%s to %s is refused: %s', (source, to, why) => {
    expect(renamed(source, to)).toMatch(why)
  })

  test('shows what would be renamed as it is written', () => {
    const { text, caret } = marked('#<Depth>|=1')
    expect(renameTarget(text, caret)).toEqual({ span: { line: 0, start: 0, end: 8 }, placeholder: '#<Depth>' })
    expect(renameTarget(reading('G1 X1').text, { line: 0, character: 1 })).toBeUndefined()
  })

  test('there and back gives the same text', () => {
    const source = '#<a>=1\no1 sub\nX#<a> Y[#<a>+1]\n#<a>=3\no1 endsub\nX#<a>'
    const there = renamed(source.replace('X#<a>', 'X#|<a>'), 'b')
    expect(there).not.toBe(source)
    expect(renamed(there.replace('X#<b>', 'X#|<b>'), 'a')).toBe(source)
  })

  test.each(BAD_TEXTS)('bad text %# is answered', source => {
    const { text } = reading(source)
    for (const character of [0, 1, 2, 5]) expect(rename(text, { line: 0, character }, 'x')).toBeTypeOf('object')
  })
})
