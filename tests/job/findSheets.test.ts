import { expect, it } from 'vitest'
import { findSheets, programsNamed } from '../../server/src/job/findSheets.ts'
import { memoryWorkspace } from './memoryWorkspace.ts'

const sheetNaming = (...programs: string[]) =>
  JSON.stringify({ setups: programs.map(program => ({ name: program, blank: 'b', program })) })

const workspace = memoryWorkspace(
  {
    'dish/cavity.nc': '',
    'dish/b.jobsheet.json': sheetNaming('cavity.nc'),
    'dish/a.jobsheet.json': sheetNaming('./cavity.nc', 'other.nc'),
    'dish/other.jobsheet.json': sheetNaming('other.nc'),
    'all.jobsheet.json': sheetNaming('dish\\cavity.nc'),
    'broken.jobsheet.json': `${sheetNaming('dish/cavity.nc').slice(0, -2)}, `,
  },
  'file:///shop/jobs/',
)

it('finds the sheets that name a program, nearest first, up to the root', async () => {
  const found = (roots: string[]) => findSheets(workspace, 'file:///shop/jobs/dish/cavity.nc', roots)
  const near = ['file:///shop/jobs/dish/a.jobsheet.json', 'file:///shop/jobs/dish/b.jobsheet.json']
  const above = ['file:///shop/jobs/all.jobsheet.json', 'file:///shop/jobs/broken.jobsheet.json']
  expect(await found(['file:///shop/jobs'])).toEqual([...near, ...above])
  expect(await found(['file:///shop/jobs/dish/'])).toEqual(near)
  // Under no root: its own folder alone.
  expect(await found(['file:///elsewhere'])).toEqual(near)
  expect(await found([])).toEqual(near)
})

it('finds none for a program that no sheet names', async () => {
  expect(await findSheets(workspace, 'file:///shop/jobs/dish/third.nc', ['file:///shop'])).toEqual([])
})

it('resolves names with blanks and folders', () => {
  const uri = 'file:///shop/jobs/all.jobsheet.json'
  expect(programsNamed(uri, sheetNaming('my dish/top side.nc', '../x.nc'))).toEqual([
    'file:///shop/jobs/my%20dish/top%20side.nc',
    'file:///shop/x.nc',
  ])
})
