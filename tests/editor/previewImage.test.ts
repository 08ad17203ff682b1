import { execFile } from 'node:child_process'
import { mkdtemp, readFile, rm, stat } from 'node:fs/promises'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { promisify } from 'node:util'
import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import { openBrowser } from './hosts/browser.ts'
import { browserPath } from './hosts/install.ts'

/** Pictures from the command line, drawn by a browser that it starts itself. */
let folder: string
const run = promisify(execFile)

beforeAll(async () => {
  folder = await mkdtemp(join(tmpdir(), 'treen-image-'))
})
afterAll(() => rm(folder, { recursive: true, force: true, maxRetries: 3 }))

const draw = (image: string, browser: string) =>
  run(process.execPath, ['dist/cli.cjs', 'preview', 'samples/fern-dish', '--image', image, '--size', '420x320'], {
    env: { ...process.env, TREEN_BROWSER: browser },
  })

/** Size of a picture, and how many shades (of 16 to a colour) its middle third has. */
async function seenIn(image: string): Promise<{ width: number; height: number; shades: number }> {
  const browser = await openBrowser(join(folder, 'profile'))
  try {
    const page = await browser.newPage()
    const source = `data:image/png;base64,${(await readFile(image)).toString('base64')}`
    return await page.evaluate(async source => {
      const picture = new Image()
      picture.src = source
      await picture.decode()
      const { width, height } = picture
      const context = new OffscreenCanvas(width, height).getContext('2d')!
      context.drawImage(picture, 0, 0)
      const { data } = context.getImageData(width / 3, height / 3, width / 3, height / 3)
      const shades = new Set<number>()
      for (let i = 0; i < data.length; i += 4) {
        shades.add(((data[i] >> 4) << 8) | ((data[i + 1] >> 4) << 4) | (data[i + 2] >> 4))
      }
      return { width, height, shades: shades.size }
    }, source)
  } finally {
    await browser.close()
  }
}

describe('treen preview --image', () => {
  it('writes a picture of the piece, of the size asked for', async () => {
    const image = join(folder, 'dish.png')
    await draw(image, browserPath())
    const { width, height, shades } = await seenIn(image)
    expect([width, height]).toEqual([420, 320])
    // A blank page has one, wood in the light has many.
    expect(shades).toBeGreaterThan(20)
  })

  it('says what is missing where there is no browser, and writes nothing', async () => {
    const image = join(folder, 'none.png')
    const failed = await draw(image, join(folder, 'no-such-browser')).catch(
      (error: { code: number; stderr: string }) => error,
    )
    expect(failed).toMatchObject({ code: 2 })
    expect(failed.stderr).toMatch(/drawn by a browser.*none is found; install Chromium.*--out writes the page/s)
    await expect(stat(image)).rejects.toThrow('ENOENT')
  })
})
