import { execFile } from 'node:child_process'
import { mkdtemp, readFile, rm, writeFile } from 'node:fs/promises'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { fileURLToPath } from 'node:url'
import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import { SMALL_PROGRAMS, SMALL_SHEET } from '../job/workedExample.ts'

const cli = fileURLToPath(new URL('../../dist/cli.cjs', import.meta.url))
let folder: string

/** Runs the command as a person does, in the test's folder. */
function treen(...args: string[]): Promise<{ readonly code: number; readonly out: string; readonly err: string }> {
  return new Promise(resolve => {
    execFile(process.execPath, [cli, ...args], { cwd: folder }, (error, out, err) => {
      resolve({ code: error ? Number(error.code) : 0, out, err })
    })
  })
}

beforeAll(async () => {
  folder = await mkdtemp(join(tmpdir(), 'treen-sheet-'))
  for (const [name, text] of Object.entries(SMALL_PROGRAMS)) await writeFile(join(folder, name), text)
  await writeFile(join(folder, 'dish.jobsheet.json'), JSON.stringify(SMALL_SHEET))
})
afterAll(() => rm(folder, { recursive: true, force: true }))

describe('treen sheet', () => {
  it('writes one page of HTML with a sheet of paper for each set-up', async () => {
    const { code, out, err } = await treen('sheet', 'dish.jobsheet.json', '--out', 'dish.html')
    expect(err).toBe('')
    expect(code).toBe(0)
    expect(out).toContain('dish.html is written')
    const page = await readFile(join(folder, 'dish.html'), 'utf8')
    expect(page.match(/<article class="sheet">/g)).toHaveLength(SMALL_SHEET.setups.length)
    expect(page).toContain('Worked example')
  })

  it('takes a program for the job that names it', async () => {
    const { code } = await treen('sheet', 'cavity.nc', '--out', 'from-program.html')
    expect(code).toBe(0)
    expect(await readFile(join(folder, 'from-program.html'), 'utf8')).toContain('Worked example')
  })

  it.each([
    ['a file that is not there', ['sheet', 'none.jobsheet.json', '--out', 'x.html'], 'none.jobsheet.json'],
    ['no place to write to', ['sheet', 'dish.jobsheet.json', '--out', 'no/such/folder/x.html'], 'cannot be written'],
    ['no --out', ['sheet', 'dish.jobsheet.json'], '--out'],
  ])('exits 2 and says why: %s', async (_, args, why) => {
    const { code, err } = await treen(...args)
    expect(code).toBe(2)
    expect(err.trim().split('\n')).toHaveLength(1)
    expect(err).toContain(why)
  })

  it('exits 2 where there is no job', async () => {
    await writeFile(join(folder, 'bare.txt.jobsheet.json'), '{ "blanks": { "a": ')
    const { code, err } = await treen('sheet', 'bare.txt.jobsheet.json', '--out', 'x.html')
    expect(code).toBe(2)
    expect(err).toContain('there is no job in it')
  })
})
