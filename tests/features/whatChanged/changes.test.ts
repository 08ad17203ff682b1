import { expect, test } from 'vitest'
import { checkedWith } from '../../../server/src/features/fixes/trial.ts'
import { changesOf } from '../../../server/src/features/whatChanged/changes.ts'
import { changeReport } from '../../../server/src/features/whatChanged/report.ts'
import { FILE, HEAD, TAIL, trialOf } from '../fixes/bench.ts'

const groove = (z: number) => `${HEAD}G0 X-5 Y20\nZ${z}\nG1 X65 F1200\n${TAIL}`

async function compared(before: string, after: string) {
  const trial = await trialOf({ 'a.nc': after })
  const old = await checkedWith(trial, FILE, before)
  return changesOf(old.outcome!, trial.checked.outcome!, FILE)
}

test('a groove made deeper, by a pencil', async () => {
  const [change] = await compared(groove(-2), groove(-2.5))
  // 60 x 6 x 0.5
  expect(change.cut!.more).toBeCloseTo(180, 1)
  expect(change.cut!.less).toBe(0)
  expect(change.cut!.places).toHaveLength(1)
  const [{ box, deepest }] = change.cut!.places
  expect(deepest).toBeCloseTo(0.5, 4)
  expect(box.flat().map(Math.round)).toEqual([0, 17, 60, 23])
  expect(change.deepest).toEqual([2, 2.5])
  const page = changeReport('a.nc', 'the saved text', [change])
  expect(page).toContain('- cut more: 180 mm³\n- cut less: 0 mm³')
  expect(page).toContain('- deepest: 2.5 mm below the face, 0.5 mm deeper')
  expect(page).toContain('| X 0 to 60, Y 17 to 23 | deeper or wider | 180 mm³ | 0.5 mm at')
})

test('what changes the text alone changes no wood', async () => {
  const [change] = await compared(groove(-2), groove(-2).replace('G1 X65', '(across)\nN10 G1 X65.000'))
  expect(changeReport('a.nc', 'the saved text', [change])).toContain('It leaves the same wood.')
  expect(change.time[0]).toBeCloseTo(change.time[1], 6)
})

test('a slower feed is told as time', async () => {
  const [change] = await compared(groove(-2), groove(-2).replace('F1200', 'F600'))
  // 70 mm at 1200 mm/min is 3.5 s, at 600 twice that.
  expect(change.time[1] - change.time[0]).toBeCloseTo(3.5, 1)
  expect(changeReport('a.nc', 'the saved text', [change])).toMatch(/- time: \d+ s, [34] s more/)
})

test('names are no markup', async () => {
  const [change] = await compared(groove(-2), groove(-2))
  expect(changeReport('<b>[x](y)', '*all*', [change])).toContain(
    '# What changed in \\<b\\>\\[x\\](y)\n\nCompared with \\*all\\*.',
  )
})
