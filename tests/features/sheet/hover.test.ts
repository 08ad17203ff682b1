import { beforeAll, describe, expect, test } from 'vitest'
import { runJobInTurns } from '../../../server/src/features/jobInTurns.ts'
import type { KnownJob } from '../../../server/src/features/sheet/effect.ts'
import { sheetHoverAt } from '../../../server/src/features/sheet/hover.ts'
import { quietMemo } from '../../../server/src/job/memo.ts'
import { caret, checkDish, DISH_TEXT } from './bench.ts'

let job: KnownJob

beforeAll(async () => {
  const { checked, kept } = await checkDish()
  const { outcome, programs } = checked
  if (!outcome) throw new Error('no job could be made of the dish')
  job = {
    outcome,
    rework: sheet =>
      runJobInTurns({ document: { ...outcome.document, sheet }, programs }, quietMemo(kept.memo), undefined),
  }
})

/** What is said over the first of some words in the sheet. */
async function over(words: string, text = DISH_TEXT, known: KnownJob | undefined = job): Promise<string> {
  const { at } = caret(text.replace(words, `${words[0]}|${words.slice(1)}`))
  return (await sheetHoverAt(text, at, known))?.markdown ?? ''
}

// The figures are those of the contract's worked example, section 2: floor 7.2 (least 6.4), reveal 1.9 (least 1.3).
describe('a hover over a field of the sheet', () => {
  test('says what a limit means, and how the job stands to it', async () => {
    const said = await over('"floor"')
    expect(said).toContain('Thinnest floor left under a cavity. Default: 4 mm.')
    expect(said).toContain('floor 7.20 mm, worst 6.40')
    expect(said).toContain('24.0 thick - 0.8 levelled - 16.0 cavity = 7.2 floor')
    expect(await over('"reveal"')).toContain('reveal 1.90 mm, worst 1.30')
  })

  test('says how much of each worst case a tolerance makes: two zeros stand between cavity and levelled face', async () => {
    const said = await over('"zero"')
    expect(said).toContain('0.2 of the 0.8 mm that floor may lose (worst 6.40, without it 6.60)')
    expect(said).toContain('0.2 of the 0.6 mm that reveal may lose (worst 1.30, without it 1.50)')
    expect(await over('"bed"')).toContain('No figure of this job rests on it.')
  })

  test('says what a saw cut leaves standing', async () => {
    expect(await over('"sawAt"')).toContain('0.5 mm proud as glued, 0 mm proud after levelling')
  })

  test('says what came of a measure', async () => {
    const text = DISH_TEXT.replace('"makes": "level" }', '"makes": "level", "measured": { "thickness": 23.1 } }')
    const { checked } = await checkDish({ 'job.jobsheet.json': text })
    const said = await over('"thickness"', text, checked.outcome && { outcome: checked.outcome })
    expect(said).toContain('Thickness left over all, by caliper')
    expect(said).toContain('24.0 thick - 0.9 levelled as measured - 16.0 cavity = 7.1 floor')
  })

  test('says what a set-up and a bit do', async () => {
    expect(await over('"cavity"')).toContain('16 mm deep')
    expect(await over('"cavity"')).toContain('7.2 mm left at the thinnest')
    expect(await over('"1":')).toContain('cavity: ')
    expect(await over('"glueLine"')).toContain('0.1 mm beneath')
  })

  test('names what is in force though nobody wrote it', async () => {
    expect(await over('"limits"')).toContain('wall 5 mm')
    expect(await over('"limits"')).not.toContain('floor 4 mm')
  })

  test('tells the figures of a copy at its thickness', async () => {
    const text = DISH_TEXT.replace(
      '"material": "maple, sugar" }',
      '"copies": { "A": { "thickness": 24 }, "B": { "thickness": 22.5 } } }',
    )
    const { checked } = await checkDish({ 'job.jobsheet.json': text })
    const known = checked.outcome && { outcome: checked.outcome }
    const said = await over('"thickness": 22.5', text, known)
    expect(said).toContain('floor 5.70 mm')
    expect(said).not.toContain('7.20')
  })

  test('without a job says what the field means, and of inches how long they are', async () => {
    const text = '{ "units": "inch", "limits": { "floor": 0.2 } }'
    const { at } = caret(text.replace('"floor"', '"fl|oor"'))
    const hover = await sheetHoverAt(text, at)
    expect(hover?.markdown).toContain('Thinnest floor')
    expect(hover?.markdown).toContain('5.08 mm')
    expect(hover?.range).toEqual({ start: { line: 0, character: 31 }, end: { line: 0, character: 38 } })
  })

  test('says nothing between fields, in comments, and of a text that is no sheet', async () => {
    const comment = caret(DISH_TEXT.replace('a disc', 'a |disc'))
    expect(await sheetHoverAt(comment.text, comment.at, job)).toBeUndefined()
    for (const text of ['', '[', '['.repeat(100_000), '{"a":'.repeat(10_000), '{ "__proto__": 1 }']) {
      const hover = await sheetHoverAt(text, { line: 0, character: 3 }, job)
      expect(hover === undefined || typeof hover.markdown === 'string').toBe(true)
    }
  })

  test('keeps markup in names text', async () => {
    const text = '{ "blanks": { "<img src=x>[a](b)": { "grain": "x" } } }'
    const { at } = caret(text.replace('<img', '<|img'))
    expect((await sheetHoverAt(text, at))?.markdown).toContain('\\<img src=x\\>\\[a\\](b)')
  })
})
