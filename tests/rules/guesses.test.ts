import { expect, test } from 'vitest'
import { checkTexts, expectPart, sheetWith } from './job.ts'

const program = (line: string) => `G21 G90 M3 S16000
G0 Z5
G0 X20 Y30
G1 Z-2 F250
${line}
G1 X90 Y60
G0 Z20
M30`

const codesOf = (text: string) =>
  checkTexts({ 'part.nc': text }, sheetWith()).findings.filter(({ code }) => code !== 'plunge/onto-floor')

test('what the guess at a broken line does to the wood is told under it', () => {
  // Without its letter the depth is lost, and the arc that cannot be goes straight through the wood at full depth.
  const findings = codesOf(program('G2 X60 Y30 Z-9 I15 J0 F1600'))
  expect(findings.map(({ code }) => code)).toEqual(['arc/ends-differ'])
  const [{ related }] = findings
  expect(related.map(({ range, message }) => `${range.start.line + 1} ${message}`)).toEqual([
    '5 as it is read, depth/pass-too-deep as well: look again once this is mended',
  ])
})

test('what is wrong on other lines is told all the same', () => {
  expectPart(
    `
    G21 G90 M3 S16000
    G0 Z5
    G0 X20 Y30
    G1 Z-9 F250
    // ^^^ depth/pass-too-deep
    G1 X60 F1600
    G1 X80 ? F1600
    //     ^ syntax/bad-word
    G0 Z20
    M30
  `,
    {},
    { ignore: ['plunge/onto-floor'] },
  )
})

test('a rule that is off folds nothing', () => {
  const text = program('G2 X60 Y30 Z-9 I15 J0 F1600')
  const { findings } = checkTexts({ 'part.nc': text }, sheetWith(), { severity: { 'arc/ends-differ': 'off' } })
  expect(findings.map(({ code }) => code)).toContain('depth/pass-too-deep')
})
