import { chmod, mkdtemp, rm, writeFile } from 'node:fs/promises'
import { tmpdir } from 'node:os'
import { delimiter, join } from 'node:path'
import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import { BROWSER_VARIABLE, findBrowser } from '../../server/src/wiring/cli/browser.ts'

describe('the browser that draws pictures', () => {
  let folder: string
  let program: string

  beforeAll(async () => {
    folder = await mkdtemp(join(tmpdir(), 'treen-browser-'))
    program = join(folder, 'chromium')
    await writeFile(program, '#!/bin/sh\n')
    await chmod(program, 0o755)
  })
  afterAll(() => rm(folder, { recursive: true, force: true }))

  it('is found on the PATH, in the order of the PATH', () => {
    expect(findBrowser({ PATH: ['/nowhere', folder].join(delimiter) }, 'linux')).toBe(program)
  })

  it('is the one that is named, and none where that is not there', () => {
    expect(findBrowser({ PATH: '', [BROWSER_VARIABLE]: program }, 'linux')).toBe(program)
    expect(findBrowser({ PATH: folder, [BROWSER_VARIABLE]: join(folder, 'gone') }, 'linux')).toBeUndefined()
  })

  it('is none where there is none', () => {
    expect(findBrowser({ PATH: '/nowhere' }, 'linux')).toBeUndefined()
    expect(findBrowser({}, 'linux')).toBeUndefined()
  })
})
