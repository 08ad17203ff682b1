import { expect, test } from 'vitest'
import { checkUri } from '../../server/src/features/check.ts'
import { USUAL } from '../../server/src/job/reading/defaults.ts'
import { DISH_PROGRAMS, dishSheet } from '../rules/dish.ts'
import { memoryWorkspace } from './memoryWorkspace.ts'

const workspace = memoryWorkspace({ ...DISH_PROGRAMS, 'a.jobsheet.json': JSON.stringify(dishSheet()) })
const sizes = Object.values(DISH_PROGRAMS).map(text => text.length)

async function found(largestText: number | undefined) {
  const settings = { severity: {}, dialect: USUAL.dialect, roots: [], largestText }
  const { findings } = await checkUri(workspace, 'file:///job/a.jobsheet.json', settings)
  return findings.filter(({ code }) => code === 'sheet/too-large').map(({ message }) => message)
}

test('a program over the limit is not run, and that is said with both numbers', async () => {
  const messages = await found(Math.max(...sizes) - 1)
  expect(messages).toHaveLength(1)
  expect(messages[0]).toMatch(/^This program has [\d.]+ MB, and the job of one over [\d.]+ MB is not run/)
})

test('one as large as the limit is run, and without a limit every one', async () => {
  expect(await found(Math.max(...sizes))).toEqual([])
  expect(await found(undefined)).toEqual([])
})
