import { readdirSync, readFileSync } from 'node:fs'
import { parseLine } from 'gcode-parser'
import { expect, test } from 'vitest'
import { readProgram } from '../../server/src/machine/readProgram.ts'

const samples = new URL('../../samples/', import.meta.url)
const programs = readdirSync(samples, { recursive: true, encoding: 'utf8' }).filter(name => name.endsWith('.nc'))

test.each(programs)('the words of %s are those of the npm package gcode-parser', name => {
  const program = readProgram(readFileSync(new URL(name, samples)))
  for (let line = 0; line < program.lineCount; line++) {
    const text = program.lineText(line)
    // A comment that does not close is words to the one and a comment to the other: that is what planted slips are.
    if (/\([^)]*$/.test(text.replace(/;.*/, ''))) continue
    const theirs = parseLine(text).words.map(([letter, value]) => [letter.toUpperCase(), Number(value)])
    const ours = program
      .wordsOf(line)
      .filter(word => word.letter !== 'N')
      .map(({ letter, value }) => [letter, value])
    expect(ours, `line ${line + 1}`).toEqual(theirs.filter(([letter]) => letter !== 'N'))
  }
})

test('there are samples to compare', () => {
  expect(programs.length).toBeGreaterThan(5)
})
