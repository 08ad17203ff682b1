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
  'file:///work/jobs/',
)

it('finds the sheets that name a program, nearest first, up to the root', async () => {
  const found = (roots: string[]) => findSheets(workspace, 'file:///work/jobs/dish/cavity.nc', roots)
  const near = ['file:///work/jobs/dish/a.jobsheet.json', 'file:///work/jobs/dish/b.jobsheet.json']
  const above = ['file:///work/jobs/all.jobsheet.json', 'file:///work/jobs/broken.jobsheet.json']
  expect(await found(['file:///work/jobs'])).toEqual([...near, ...above])
  expect(await found(['file:///work/jobs/dish/'])).toEqual(near)
  // Under no root: its own folder alone.
  expect(await found(['file:///elsewhere'])).toEqual(near)
  expect(await found([])).toEqual(near)
})

it('finds none for a program that no sheet names', async () => {
  expect(await findSheets(workspace, 'file:///work/jobs/dish/third.nc', ['file:///work'])).toEqual([])
})

it('resolves names with blanks and folders', () => {
  const uri = 'file:///work/jobs/all.jobsheet.json'
  expect(programsNamed(uri, sheetNaming('my dish/top side.nc', '../x.nc'))).toEqual([
    'file:///work/jobs/my%20dish/top%20side.nc',
    'file:///work/x.nc',
  ])
})
