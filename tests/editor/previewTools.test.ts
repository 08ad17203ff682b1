import axe from 'axe-core'
import type { Page } from 'playwright-core'
import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import { dishJob } from '../webview/dish.ts'
import { type PreviewPages, previewPages, saidBy, untilStill } from './hosts/previewPage.ts'

/** The tools of the preview's page, by hand and by keys, and what those who do not see or point get of it. */
let pages: PreviewPages
const job = dishJob({}, 1.2)

beforeAll(async () => {
  pages = await previewPages()
})
afterAll(() => pages?.close())

const press = async (page: Page, name: string) => page.getByRole('button', { name, exact: true }).press('Enter')

/** Waits until the cut is the one at a place. */
const cutAt = (page: Page, place: string) =>
  page.waitForFunction(wanted => document.querySelector<HTMLElement>('.page')?.dataset.section === wanted, place, {
    timeout: 120_000,
  })

const written = (page: Page) =>
  page
    .locator('.written .note')
    .evaluateAll(rows => rows.map(row => [...row.children].map(child => child.textContent).join(' ')))

describe('the cut', () => {
  it('is opened, moved and read by keys alone, and its numbers stand on the picture', async () => {
    const page = await pages.open(job)
    await untilStill(page)
    await press(page, 'Cut open')
    await cutAt(page, 'y 80')
    // Cavity 16 deep in 24, sawn off at 1.3: the floor; outline and last round of the cavity 8.5 mm apart; the plug's face at 9.9.
    const numbers = await written(page)
    expect(numbers).toContain('Floor 6.70 mm')
    expect(numbers).toContain('Inlay left 6.70 mm')
    expect(numbers.filter(each => each === 'Wall 8.50 mm')).toHaveLength(2)
    const texts = () => page.locator('.marks-over text').allTextContents()
    await page.waitForFunction(() => document.querySelectorAll('.marks-over text').length >= 4)
    expect(await texts()).toContain('floor 6.70')
    const place = page.getByRole('slider', { name: 'Place of the cut' })
    await place.press('ArrowRight')
    await cutAt(page, 'y 80.1')
    await page.getByRole('button', { name: 'along X' }).press('Enter')
    await cutAt(page, 'x 110')
    await place.press('Home')
    await cutAt(page, 'x 0')
    expect(await written(page)).toEqual([])
    await press(page, 'Cut open')
    expect(await page.locator('.marks-over text').count()).toBe(0)
    await page.close()
  })

  it('is dragged by its handle', async () => {
    const page = await pages.open(job, { view: { plane: { axis: 'x', at: 110 } } })
    await untilStill(page)
    await cutAt(page, 'x 110')
    const box = (await page.locator('.grip').boundingBox())!
    await page.mouse.move(box.x + 15, box.y + 15)
    await page.mouse.down()
    await page.mouse.move(box.x + 95, box.y + 15, { steps: 4 })
    await page.mouse.up()
    await page.waitForFunction(() => {
      const { section } = document.querySelector<HTMLElement>('.page')!.dataset
      return section !== undefined && Number(section.split(' ')[1]) > 115
    })
    await page.close()
  })
})

describe('measuring', () => {
  it('goes by keys: a cross, two places, numbers for the clipboard', async () => {
    const page = await pages.open(job, { view: { stance: 'top' } })
    await pages.browser.grantPermissions(['clipboard-read', 'clipboard-write'])
    await untilStill(page)
    await press(page, 'Measure')
    await page.locator('canvas.piece').focus()
    await page.keyboard.press('Enter')
    const said = page.locator('.said')
    await said.filter({ hasText: 'mm deep' }).waitFor()
    // In the middle of the floor, 16 mm down; 6.7 mm of wood and plug under it.
    expect(await said.textContent()).toMatch(/on the floor: 16\.00 mm deep, 6\.70 mm thick/)
    for (let i = 0; i < 4; i++) await page.keyboard.press('ArrowUp')
    await page.keyboard.press('Enter')
    await said.filter({ hasText: 'mm apart' }).waitFor()
    await press(page, 'Copy the numbers')
    await page.waitForFunction(async () => (await navigator.clipboard.readText()).includes('mm apart'))
    expect(await page.evaluate(() => navigator.clipboard.readText())).toBe(await said.textContent())
    await page.locator('canvas.piece').press('Escape')
    expect(await page.getByRole('button', { name: 'Measure' }).getAttribute('aria-pressed')).toBe('false')
    await page.close()
  })
})

describe('layers', () => {
  it('each have a legend with numbers, on the surface and along the path', async () => {
    const page = await pages.open(job, { view: { setup: 'cavity', motion: 400 } })
    await untilStill(page)
    const legends = page.locator('.legend:not([hidden])')
    for (const [name, title] of [
      ['Depth', 'Depth under the face'],
      ['Thickness', 'Thickness of all that is solid'],
      ['Still to cut', 'Still to be cut away here'],
      ['Last edit', 'The last edit changed nothing'],
    ] as const) {
      await page.getByLabel('Surface').selectOption({ label: name })
      await legends.filter({ hasText: title }).waitFor()
      expect(await legends.locator('.marks span').count()).toBeGreaterThan(1)
    }
    await page.getByLabel('Surface').selectOption({ label: 'Wood' })
    await legends.waitFor({ state: 'detached' })
    await page.getByLabel('Its colour').selectOption({ label: 'Chip load' })
    // The bit's own limits.
    await legends.filter({ hasText: '0.030 mm least' }).filter({ hasText: '0.120 mm most' }).waitFor()
    await page.close()
  })

  it('leads from a pin to the line it stands for', async () => {
    const page = await pages.open(job)
    await untilStill(page)
    const pin = page.getByRole('button', { name: /^warning, pocket.nc, line 8/ })
    await pin.focus()
    await page.locator('.pin-said', { hasText: 'goes down at 1500' }).waitFor()
    await pin.press('Enter')
    const place = page.getByRole('slider', { name: 'Place in the job' })
    expect(await place.getAttribute('aria-valuetext')).toMatch(/^pocket, 1 of 7, underside up · pocket · line 8 /)
    await page.close()
  })
})

describe('for everyone', () => {
  it.each([
    { name: 'light', theme: '', scheme: 'light' },
    { name: 'dark', theme: 'vscode-dark', scheme: 'dark' },
    { name: 'high contrast', theme: 'vscode-high-contrast', scheme: 'dark' },
    { name: 'light high contrast', theme: 'vscode-high-contrast-light vscode-high-contrast', scheme: 'light' },
  ] as const)('nothing is found by axe in $name colours, with every tool open', async ({ theme, scheme }) => {
    const page = await pages.open(job, { theme, scheme, width: 1000, height: 760 })
    await untilStill(page)
    for (const tool of ['Cut open', 'Measure', 'Lift the inlay']) await press(page, tool)
    await page.getByLabel('Surface').selectOption({ label: 'Depth' })
    await page.evaluate(axe.source)
    const found = await page.evaluate(async () => {
      const { axe: runner } = globalThis as unknown as { axe: typeof axe }
      const { violations } = await runner.run(document)
      return violations.map(({ id, nodes }) => `${id}: ${nodes.map(node => node.html.slice(0, 120)).join(' | ')}`)
    })
    expect(found).toEqual([])
    await page.close()
  })

  it('keeps every tool and number within reach at 200 %', async () => {
    // Twice the size is half the room.
    const page = await pages.open(job, { width: 640, height: 450 })
    await untilStill(page)
    const wide = await page.evaluate(() => document.documentElement.scrollWidth - document.documentElement.clientWidth)
    expect(wide).toBe(0)
    for (const name of ['Cut open', 'Watch it cut']) {
      const button = page.getByRole('button', { name })
      await button.scrollIntoViewIfNeeded()
      expect((await button.boundingBox())!.x).toBeGreaterThanOrEqual(0)
    }
    await page.close()
  })

  it('tells what is shown when it has come to rest', async () => {
    const page = await pages.open(job)
    await untilStill(page)
    await page.getByRole('slider', { name: 'Place in the job' }).press('Home')
    await page.locator('[aria-live="polite"]', { hasText: 'pocket, 1 of 7' }).first().waitFor({ state: 'attached' })
    await page.close()
  })
})

describe('in the long run', () => {
  it('opens and closes 20 times without growing', async () => {
    const counts: number[] = []
    for (let round = 0; round < 20; round++) {
      const page = await pages.open(dishJob({}, 2.5), { width: 320, height: 240 })
      await page.waitForFunction(() => document.querySelector<HTMLElement>('.page')?.dataset.shown)
      await page.close()
      const session = await pages.browser.newCDPSession(pages.browser.pages()[0])
      await session.send('HeapProfiler.collectGarbage')
      const { documents, nodes } = await session.send('Memory.getDOMCounters')
      counts.push(documents + nodes)
      await session.detach()
    }
    expect(counts[19]).toBeLessThanOrEqual(counts[4] * 1.2)
  })

  it('shows a job again and again in one page without growing', async () => {
    const page = await pages.open(dishJob({}, 2.5), { width: 320, height: 240 })
    await page.waitForFunction(() => document.querySelector<HTMLElement>('.page')?.dataset.shown)
    const session = await pages.browser.newCDPSession(page)
    const heap: number[] = []
    const nodes: number[] = []
    for (let round = 0; round < 20; round++) {
      await page.evaluate(async () => {
        const { dataset } = document.querySelector<HTMLElement>('.page')!
        const job = document.getElementById('job')!.textContent!
        dataset.built = 'before'
        window.postMessage({ type: 'packed', job }, '*')
        await new Promise<void>(done => {
          const look = () =>
            dataset.built === undefined || dataset.built === 'before' ? requestAnimationFrame(look) : done()
          look()
        })
      })
      await session.send('HeapProfiler.collectGarbage')
      heap.push((await session.send('Runtime.getHeapUsage')).usedSize)
      nodes.push((await session.send('Memory.getDOMCounters')).nodes)
    }
    // Nothing of it changed, so that nothing is carved again.
    expect((await saidBy(page)).anew).toBe('0')
    expect(heap[19]).toBeLessThan(heap[4] * 1.15)
    expect(nodes[19]).toBeLessThan(nodes[4] * 1.15)
    await page.close()
  })
})
