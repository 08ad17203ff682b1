import { rm } from 'node:fs/promises'
import { join } from 'node:path'
import { afterAll, beforeAll, beforeEach, describe, expect, onTestFailed, test } from 'vitest'
import { coloursIn, pixelsOf, shareThatDiffers, stillPicture } from './hosts/pixels.ts'
import { copyOfSamples, screenshots } from './hosts/samples.ts'
import { type Started, startDesktop, startWeb } from './hosts/start.ts'
import { Workbench } from './hosts/workbench.ts'

const hosts = [
  { host: 'desktop', start: startDesktop },
  { host: 'web', start: startWeb },
] as const

describe.each(hosts)('the first draft of the fern dish in the $host host', ({ host, start }) => {
  let started: Started
  let bench: Workbench
  let folder: string

  beforeAll(async () => {
    folder = await copyOfSamples()
    started = await start(folder)
    bench = new Workbench(started.page)
  })

  afterAll(async () => {
    await started?.stop()
    await rm(folder, { recursive: true, force: true })
  })

  beforeEach(() => {
    onTestFailed(async () => {
      await shot('failed')
      console.log(started.log())
    })
  })

  const shot = (name: string) => started.page.screenshot({ path: join(screenshots, `${host}-${name}.png`) })

  test('shows the plunge at its word and in the list', async () => {
    await bench.openFile('fern-dish-first-draft', 'cavity.nc')
    await bench.showProblems()
    await bench.problems('plunge/not-centre-cutting').first().waitFor()
    await shot('findings')
    expect(await bench.hasSquiggle('error', 'G1 Z-1 F300', 3, 6)).toBe(true)
    expect(await bench.verdict.textContent()).toMatch(/\d+ errors, \d+ warnings/)
  })

  test('opens the page of a rule from its code, without a network', async () => {
    await bench
      .problems('plunge/not-centre-cutting')
      .first()
      .locator('a', { hasText: 'plunge/not-centre-cutting' })
      .click()
    await bench.page.locator('.tab.active').getByText('not-centre-cutting').waitFor()
    await bench.webview.locator('h1').first().waitFor()
    await shot('rule-page')
    await bench.closeTab()
  })

  test('lets go of it once the number is mended', async () => {
    await bench.select(13, 4, 7)
    await started.page.keyboard.type('Z0')
    await bench.problems('plunge/not-centre-cutting').first().waitFor({ state: 'detached' })
    expect(await bench.hasSquiggle('error', 'G1 Z0 F300', 3, 5)).toBe(false)
    // What is wrong elsewhere is still said.
    await bench.problems('inlay/not-revealed').first().waitFor()
  })

  test('carves the piece beside the text', async () => {
    await bench.openPreview()
    const place = bench.webview.getByRole('slider', { name: 'Place in the job' })
    const canvas = bench.webview.locator('canvas.piece')
    await bench.webview.locator('progress.carving').waitFor({ state: 'hidden' })
    await place.press('Home')
    const whole = await pixelsOf(started.page, await stillPicture(canvas))
    await shot('uncut')
    await place.press('End')
    const carved = await pixelsOf(started.page, await stillPicture(canvas))
    await shot('carved')
    expect(coloursIn(carved)).toBeGreaterThan(20)
    expect(shareThatDiffers(whole, carved)).toBeGreaterThan(0.03)
  })
})
