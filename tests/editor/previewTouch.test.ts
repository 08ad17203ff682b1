import type { CDPSession, Page } from 'playwright-core'
import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import { dishJob } from '../webview/dish.ts'
import { type PreviewPages, previewPages, untilStill } from './hosts/previewPage.ts'

/** The preview's page by fingers, as the browser hands them on. */
let pages: PreviewPages
const job = dishJob({}, 1.2)

beforeAll(async () => {
  pages = await previewPages()
})
afterAll(() => pages?.close())

type Finger = readonly [x: number, y: number]

/** Puts fingers down, moves them through the places given, and lifts them. */
async function touch(session: CDPSession, ...places: readonly (readonly Finger[])[]): Promise<void> {
  for (const [i, fingers] of places.entries()) {
    const touchPoints = fingers.map(([x, y], id) => ({ x, y, id }))
    await session.send('Input.dispatchTouchEvent', { type: i ? 'touchMove' : 'touchStart', touchPoints })
  }
  await session.send('Input.dispatchTouchEvent', { type: 'touchEnd', touchPoints: [] })
}

/** Where the dimensions of the cut stand on the picture: they go with the piece. */
async function marks(page: Page): Promise<{ wide: number; all: string }> {
  const boxes = await page
    .locator('.marks-over text')
    .evaluateAll(all => all.map(each => each.getBoundingClientRect().x))
  return { wide: Math.max(...boxes) - Math.min(...boxes), all: boxes.map(x => x.toFixed(1)).join(' ') }
}

describe('fingers', () => {
  it('turn the piece with one and bring it nearer with two', async () => {
    const page = await pages.open(job, { view: { plane: { axis: 'y', at: 80 } } })
    await untilStill(page)
    await page.waitForFunction(() => document.querySelectorAll('.marks-over text').length >= 4)
    const { x, y, width, height } = (await page.locator('canvas').first().boundingBox())!
    const [cx, cy] = [x + width / 2, y + height / 2]
    const session = await page.context().newCDPSession(page)
    const start = await marks(page)
    await touch(session, [[cx, cy]], [[cx + 10, cy]], [[cx + 40, cy]], [[cx + 70, cy]])
    await expect.poll(async () => (await marks(page)).all, { timeout: 30_000 }).not.toBe(start.all)
    await untilStill(page)
    const turned = await marks(page)
    const apart = (by: number): Finger[] => [
      [cx - by, cy],
      [cx + by, cy],
    ]
    await touch(session, apart(40), apart(44), apart(50), apart(60))
    await expect.poll(async () => (await marks(page)).wide / turned.wide, { timeout: 30_000 }).toBeGreaterThan(1.2)
    expect(await page.evaluate(() => [scrollX, scrollY, visualViewport?.scale])).toEqual([0, 0, 1])
    await page.close()
  })
})
