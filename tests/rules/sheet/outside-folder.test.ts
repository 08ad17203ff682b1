import { expect, test } from 'vitest'
import { type CheckSettings, checkUri } from '../../../server/src/features/check.ts'
import { USUAL } from '../../../server/src/job/reading/defaults.ts'
import { memoryWorkspace } from '../../job/memoryWorkspace.ts'
import { DISH_PROGRAMS, dishSheet } from '../dish.ts'

/** The dish in a folder of its own, its levelling program two folders up. */
const workspace = memoryWorkspace(
  {
    'jobs/dish/dish.jobsheet.json': JSON.stringify(dishSheet({ level: { program: '../../shared/level.nc' } })),
    ...Object.fromEntries(Object.entries(DISH_PROGRAMS).map(([name, text]) => [`jobs/dish/${name}`, text])),
    'shared/level.nc': DISH_PROGRAMS['level.nc'],
  },
  'file:///shop/',
)

async function found(settings: Partial<CheckSettings>) {
  const usual = { severity: {}, dialect: USUAL.dialect, roots: [] }
  const { findings, programs } = await checkUri(workspace, 'file:///shop/jobs/dish/dish.jobsheet.json', {
    ...usual,
    ...settings,
  })
  const here = findings.filter(({ code }) => code === 'sheet/outside-folder')
  return { here, read: programs.has('file:///shop/shared/level.nc') }
}

test('a program outside the folder that is open is not read, and that is said at its name', async () => {
  for (const roots of [['file:///shop/jobs'], ['file:///shop/jobs/dish/'], [], ['file:///elsewhere']]) {
    const { here, read } = await found({ roots })
    expect(here).toHaveLength(1)
    expect(here[0].severity).toBe('error')
    expect(here[0].message).toContain('open a folder that holds both')
    expect(here[0].range.end.character - here[0].range.start.character).toBe('"../../shared/level.nc"'.length)
    expect(read).toBe(false)
  }
})

test('one in the folder that is open, or one that is allowed, is read', async () => {
  for (const settings of [{ roots: ['file:///shop'] }, { roots: ['file:///'] }, { roots: [], anywhere: true }]) {
    expect(await found(settings)).toEqual({ here: [], read: true })
  }
})
