import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { feedBy, feedForChip } from '../../../server/src/features/rewrites/feed.ts'
import { renumbered, unnumbered } from '../../../server/src/features/rewrites/lineNumbers.ts'
import { edited } from '../../../server/src/features/rewrites/source.ts'
import { tidied } from '../../../server/src/features/rewrites/tidy.ts'
import { program as anyProgram, path } from '../../machine/programs.ts'
import { read, SEED, samplePrograms, soundProgram, source, textAfter } from './bench.ts'
import { farthestOff } from './twin.ts'

const stay = (p: readonly number[]) => [...p]

describe('feed', () => {
  const text = `G21 G90
S16000 M3
G0 X0 Y0 Z1
G1 Z-1 F300
X50 F1600
Y50
X0
G0 Z5
`
  test('by a factor, of all and of some', () => {
    expect(textAfter(text, feedBy(source(text), 0.8))).toBe(text.replace('F300', 'F240').replace('F1600', 'F1280'))
    expect(textAfter(text, feedBy(source(text, 5, 5), 0.5))).toBe(
      text.replace('Y50', 'Y50 F800').replace('\nX0\n', '\nX0 F1600\n'),
    )
  })

  test('to a chip load: only what cuts sideways', () => {
    // 0.06 x 2 x 16000 = 1920, by a pencil.
    expect(
      textAfter(
        text,
        feedForChip(source(text), 0.06, () => 2),
      ),
    ).toBe(text.replace('F1600', 'F1920'))
    expect(
      textAfter(
        text,
        feedForChip(source(text), 0.06, () => undefined),
      ),
    ).toContain('? Which bit cuts on line 5')
    const still = text.replace('S16000 M3', '')
    expect(
      textAfter(
        still,
        feedForChip(source(still), 0.06, () => 2),
      ),
    ).toContain('? No speed is in force')
  })

  test(`of some lines of random programs, nothing else (seed ${SEED})`, () => {
    fc.assert(
      fc.property(soundProgram, fc.nat(25), fc.nat(20), (program, from, count) => {
        const result = feedBy(source(program, from, from + count), 1.25)
        if ('why' in result) return
        const [before, after] = [read(program), read(edited(program, result.edits))]
        expect(farthestOff(before, after, stay)).toBe(0)
        for (let i = 0; i < before.motions.count; i++) {
          const line = before.motions.line[i]
          if (before.motions.kind[i] === 0) continue
          const factor = line >= from && line <= from + count ? 1.25 : 1
          const [was, now] = [before.states[before.motions.state[i]].feed, after.states[after.motions.state[i]].feed]
          expect(Math.abs(now - was * factor) / was).toBeLessThan(0.0011)
        }
      }),
      { seed: SEED, numRuns: 60 },
    )
  })
})

describe('line numbers', () => {
  const text = '%\nN5 G21 G90\n(note)\nN0010 G0 X1\nG1 X2 F100\nN20X3\n'
  test('those there are, as they are written', () => {
    expect(textAfter(text, renumbered(source(text), 10))).toBe(
      '%\nN10 G21 G90\n(note)\nN0020 G0 X1\nG1 X2 F100\nN30X3\n',
    )
    expect(textAfter(text, unnumbered(source(text)))).toBe('%\nG21 G90\n(note)\nG0 X1\nG1 X2 F100\nX3\n')
  })
  test('all lines with words, where there are none', () => {
    const bare = '%\nG21 G90\n\n(note)\n/G0 X1\nG1 X2 (to)\n'
    expect(textAfter(bare, renumbered(source(bare), 5))).toBe('%\nN5 G21 G90\n\n(note)\n/G0 X1\nN10 G1 X2 (to)\n')
    expect(textAfter(bare, renumbered(source(bare), 90_000))).toContain('? 2 lines in steps of 90000 go beyond')
  })
})

describe('spacing', () => {
  test('before and after', () => {
    const text =
      ' G1X1 0 Y- 2.5\tF100  \r\n\r\n  ( kept  as it is )  \nX1   (beside)\nX[ 1 + 2 ]\n\to1 if [#1 GT 2]\n% \n   \nG1 X1;  end  \n'
    const tidy =
      'G1 X10 Y-2.5 F100\r\n\r\n( kept  as it is )\nX1   (beside)\nX[ 1 + 2 ]\n\to1 if [#1 GT 2]\n%\n\nG1 X1 ;  end\n'
    expect(edited(text, tidied(text))).toBe(tidy)
  })

  test.each(samplePrograms())('%s is tidy already', (_file, text) => {
    expect(tidied(text)).toEqual([])
  })

  test(`moves nothing, and done twice changes nothing (seed ${SEED})`, () => {
    fc.assert(
      fc.property(anyProgram, fc.array(fc.constantFrom(' ', '\t', ''), { minLength: 1 }), (program, blanks) => {
        let n = 0
        const loose = program.replace(/[XYZGF]/g, letter => blanks[n++ % blanks.length] + letter)
        const once = edited(loose, tidied(loose))
        expect(path(read(once))).toEqual(path(read(loose)))
        expect(read(once).comments.map(({ text }) => text)).toEqual(read(loose).comments.map(({ text }) => text))
        expect(tidied(once)).toEqual([])
      }),
      { seed: SEED, numRuns: 150 },
    )
  })
})
