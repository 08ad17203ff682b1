import { mkdtemp, readFile, rm, writeFile } from 'node:fs/promises'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { pathToFileURL } from 'node:url'
import type { BrowserContext, Page } from 'playwright-core'
import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import { previewPage } from '../../server/src/features/preview/page.ts'
import type { FromPreview, PreviewJob } from '../../server/src/features/preview/protocol.ts'
import { jobToText } from '../../server/src/features/preview/wire.ts'
import { dishJob } from '../webview/dish.ts'
import { openBrowser } from './hosts/browser.ts'
import { pixelsOf, shareThatDiffers, stillPicture } from './hosts/pixels.ts'

/** The page by itself, in a real browser with a software renderer: as a file, and in an editor that a script plays. */
let folder: string
let browser: BrowserContext
let files = 0

beforeAll(async () => {
  folder = await mkdtemp(join(tmpdir(), 'treen-preview-'))
  browser = await openBrowser(join(folder, 'profile'))
})
afterAll(async () => {
  await browser?.close()
  await rm(folder, { recursive: true, force: true, maxRetries: 3 })
})

const job = (change: Partial<PreviewJob> = {}) => dishJob(change, 1.2)

interface Opened {
  readonly page: Page
  /** What a reader of the console would see as wrong. */
  readonly errors: string[]
}

async function open(of: PreviewJob | undefined, before?: () => void): Promise<Opened> {
  const path = join(folder, `page${files++}.html`)
  const parts = {
    script: await readFile('dist/webview.js', 'utf8'),
    style: await readFile('dist/webview.css', 'utf8'),
    nonce: `n${files}`,
  }
  await writeFile(path, previewPage(of, parts))
  const page = await browser.newPage()
  // Small, for the software renderer is slow; wide enough for the notes to stand beside the piece.
  await page.setViewportSize({ width: 900, height: 600 })
  await page.emulateMedia({ reducedMotion: 'reduce' })
  const errors: string[] = []
  page.on('console', message => message.type() === 'error' && errors.push(message.text()))
  page.on('pageerror', error => errors.push(error.message))
  page.on('dialog', dialog => {
    errors.push(`a dialog: ${dialog.message()}`)
    void dialog.dismiss()
  })
  if (before) await page.addInitScript(before)
  await page.goto(pathToFileURL(path).href)
  return { page, errors }
}

/** Waits until the worker has built the job and its picture of a moment is the one on the screen. */
const shows = (page: Page, moment: RegExp) =>
  page.waitForFunction(
    pattern => {
      const { built, shown } = document.querySelector<HTMLElement>('.page')?.dataset ?? {}
      return built !== undefined && shown !== undefined && new RegExp(pattern).test(shown)
    },
    moment.source,
    { timeout: 120_000 },
  )

const stick = (page: Page) => page.getByRole('slider', { name: 'Place in the job' })
const words = (page: Page) => stick(page).getAttribute('aria-valuetext')
const canvas = (page: Page) => page.locator('canvas.piece')
const picture = async (page: Page) => pixelsOf(page, await stillPicture(canvas(page)))

/** An editor as the page knows it: what is posted is kept, state lives as long as the tab. */
function actAsEditor() {
  const posted: unknown[] = []
  Object.assign(globalThis, {
    posted,
    acquireVsCodeApi: () => ({
      postMessage: (message: unknown) => posted.push(message),
      getState: () => JSON.parse(sessionStorage.getItem('state') ?? 'null') ?? undefined,
      setState: (state: unknown) => sessionStorage.setItem('state', JSON.stringify(state)),
    }),
  })
}
const posted = (page: Page) => page.evaluate(() => (globalThis as unknown as { posted: FromPreview[] }).posted)
const send = (page: Page, message: unknown) => page.evaluate(data => window.postMessage(data, '*'), message)

describe('the page as a file', () => {
  it('draws the piece, and less of it as the job goes on', async () => {
    const { page, errors } = await open(job())
    await shows(page, /^6\//)
    const done = await picture(page)
    await stick(page).focus()
    await page.keyboard.press('Home')
    await shows(page, /^0\/-1\//)
    const blank = await picture(page)
    expect(shareThatDiffers(blank, done)).toBeGreaterThan(0.05)
    // Where the inlay shows in the end the blank was pale wood: the middle of the stem.
    const at = (Math.floor(done.height * 0.5) * done.width + Math.floor(done.width * 0.5)) * 4
    expect(blank.bytes[at] - done.bytes[at]).toBeGreaterThan(50)
    expect(errors).toEqual([])
    await page.close()
  })

  it('is walked by keys alone, in an order that can be foreseen, and says where it is', async () => {
    const { page, errors } = await open(job())
    await shows(page, /^6\//)
    const order: string[] = []
    for (let i = 0; i < 18; i++) {
      await page.keyboard.press('Tab')
      order.push(
        await page.evaluate(() => {
          const focused = document.activeElement as HTMLElement
          return (
            focused.getAttribute('aria-label')?.split(':')[0] ??
            focused.closest('label')?.firstChild?.textContent ??
            focused.textContent
          )
        }),
      )
    }
    expect(order).toEqual([
      'On the machine',
      'Top',
      'Underside',
      'In hand',
      'Surface',
      'Path',
      'Its colour',
      'Copy',
      'Cut open',
      'Measure',
      'Lift the inlay',
      'The piece',
      expect.stringMatching(/^warning, pocket.nc, line 8/),
      'Figures',
      '1 thing found',
      expect.stringContaining('goes down at 1500 mm/min'),
      'One line back',
      'One line on',
    ])
    await stick(page).focus()
    await page.keyboard.press('Home')
    await page.keyboard.press('ArrowRight')
    await page.keyboard.press('ArrowRight')
    expect(await words(page)).toMatch(/^pocket, 1 of 7, underside up · pocket · line 8 · 3 mm down-cut · cutting feed/)
    await page.keyboard.press('PageUp')
    expect(await words(page)).toMatch(/Program done/)
    await shows(page, /^0\/900\//)
    const before = await picture(page)
    await canvas(page).focus()
    await page.keyboard.press('ArrowLeft')
    await page.keyboard.press('ArrowLeft')
    expect(shareThatDiffers(before, await picture(page))).toBeGreaterThan(0.02)
    expect(errors).toEqual([])
    await page.close()
  })

  it('says so when the graphics are lost, and comes back as it was', async () => {
    const { page, errors } = await open(job())
    await shows(page, /^6\//)
    const before = await picture(page)
    await page.evaluate(() => {
      const gl = document.querySelector<HTMLCanvasElement>('canvas.piece')!.getContext('webgl2')!
      const loser = gl.getExtension('WEBGL_lose_context')!
      Object.assign(globalThis, { loser })
      loser.loseContext()
    })
    await page.getByText('The graphics were taken away').first().waitFor()
    await page.evaluate(() => (globalThis as unknown as { loser: WEBGL_lose_context }).loser.restoreContext())
    await page.waitForFunction(() => !document.querySelector('.lost'))
    expect(shareThatDiffers(before, await picture(page))).toBeLessThan(0.01)
    expect(errors).toEqual([])
    await page.close()
  })

  it('shows markup in names as it is written', async () => {
    const wild = '<img src=x onerror=alert(1)></script><script>alert(2)</script>'
    const base = job()
    const setups = base.setups.map(setup => ({ ...setup, name: wild }))
    const findings = base.findings.map(finding => ({ ...finding, message: wild, file: `file:///${wild}` }))
    const { page, errors } = await open({ ...base, title: wild, setups, findings })
    await shows(page, /./)
    expect(await page.getByRole('heading', { level: 1 }).textContent()).toBe(wild)
    expect(await page.locator('.finding .message').textContent()).toBe(wild)
    expect(await page.locator('img').count()).toBe(0)
    expect(errors).toEqual([])
    await page.close()
  })

  it('keeps to the figures where there is no WebGL, and says why', async () => {
    const { page, errors } = await open(job(), () => {
      const get = HTMLCanvasElement.prototype.getContext
      HTMLCanvasElement.prototype.getContext = function (this: HTMLCanvasElement, kind: string, ...rest: unknown[]) {
        return kind === 'webgl2' ? null : get.call(this, kind as '2d', ...(rest as []))
      } as typeof get
    })
    await page.locator('.notice', { hasText: 'no WebGL 2' }).waitFor()
    expect(await page.locator('.note', { hasText: 'Floor' }).locator('.value').textContent()).toBe('6.7 mm')
    expect(errors).toEqual([])
    await page.close()
  })
})

describe('the page in an editor', () => {
  it('asks for a job when it is ready, follows the caret, and answers a click with a line', async () => {
    const { page, errors } = await open(undefined, actAsEditor)
    expect(await posted(page)).toEqual([{ type: 'ready' }])
    await send(page, { type: 'nothing', why: 'No job sheet names this program.' })
    await page.locator('.notice', { hasText: 'No job sheet names this program.' }).waitFor()
    await send(page, { type: 'packed', job: jobToText(job()) })
    await shows(page, /^6\//)
    await send(page, { type: 'caret', program: 'file:///shop/cavity.nc', line: 300 })
    await shows(page, /^3\/294\//)
    expect(await words(page)).toMatch(/^cavity, 4 of 7, top face up · cavity · line 301 /)
    const box = (await canvas(page).boundingBox())!
    await page.mouse.click(box.x + box.width * 0.42, box.y + box.height * 0.52)
    const last = (await posted(page)).at(-1)
    expect(last).toMatchObject({ type: 'line', program: 'file:///shop/cavity.nc' })
    expect(errors).toEqual([])
    await page.close()
  })

  it('comes back after it was hidden with what it showed', async () => {
    const { page, errors } = await open(undefined, actAsEditor)
    await send(page, { type: 'packed', job: jobToText(job()) })
    await send(page, { type: 'caret', program: 'file:///shop/outline.nc', line: 30 })
    await page.getByRole('button', { name: 'Underside' }).click()
    await page.waitForFunction(() => sessionStorage.getItem('state')?.includes('"setup":"outline"'))
    const kept = await words(page)
    await page.reload()
    await send(page, { type: 'packed', job: jobToText(job()) })
    await shows(page, /^4\//)
    expect(await words(page)).toBe(kept)
    expect(await page.getByRole('button', { name: 'Underside' }).getAttribute('aria-pressed')).toBe('true')
    expect(errors).toEqual([])
    await page.close()
  })
})
