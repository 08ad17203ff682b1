import { cp, rm } from 'node:fs/promises'
import { join } from 'node:path'
import { afterAll, beforeAll, beforeEach, describe, expect, onTestFailed, test } from 'vitest'
import { copyOfSamples, screenshots } from './hosts/samples.ts'
import { serverProcesses } from './hosts/serverProcess.ts'
import { type Started, startDesktop, startWeb } from './hosts/start.ts'
import { Workbench } from './hosts/workbench.ts'

/** The ways that people take through the editor, by the keyboard alone; each step waits for what it leads to. */
const hosts = [
  { host: 'desktop', start: startDesktop },
  { host: 'web', start: startWeb },
] as const

/** `cavity.nc` of the dish with one slip: the line that goes too deep, and the column of its Z word. */
const SLIP = { line: 522, from: 6, right: 'Z-18.15', wrong: 'Z-19.05' }

describe.each(hosts)('by keys in the $host host', ({ host, start }) => {
  let started: Started
  let bench: Workbench
  let folder: string

  beforeAll(async () => {
    folder = await copyOfSamples()
    // Programs that nobody has written a job sheet for yet.
    await cp(join(folder, 'crescent-tray'), join(folder, 'tray'), {
      recursive: true,
      filter: from => !from.endsWith('.jobsheet.json'),
    })
    started = await start(folder)
    bench = new Workbench(started.page)
  })

  afterAll(async () => {
    await started?.stop()
    await rm(folder, { recursive: true, force: true })
  })

  beforeEach(({ task }) => {
    onTestFailed(async () => {
      await shot(`failed-${task.name.slice(0, 20).replaceAll(' ', '-')}`)
      console.log(started.log().slice(-5000))
    })
  })

  const shot = (name: string) => started.page.screenshot({ path: join(screenshots, `${host}-${name}.png`) })
  const press = (key: string) => started.page.keyboard.press(key)

  test('nothing is offered that does not apply yet', async () => {
    const offered = (await bench.offered('Treen: Open a Sample Job')).join()
    expect(offered).toContain('Treen: First Steps')
    for (const later of ['Open Preview Beside', 'Begin a Job Sheet for This Program', 'Open the Page of a Rule']) {
      expect(offered).not.toContain(`Treen: ${later}`)
    }
  })

  test('the first steps open, with their pictures', async () => {
    await bench.command('Treen: First Steps')
    const steps = started.page.locator('.gettingStartedContainer')
    await steps.getByText('Open a job', { exact: true }).first().waitFor()
    await steps.getByText('Take it to the machine', { exact: true }).first().waitFor()
    await shot('first-steps')
  })

  test('a sample job opens, is checked, and shows its gravest finding', async () => {
    await bench.command('Treen: Open a Sample Job')
    await bench.choose('Fern dish, one slip')
    await bench.tab('cavity.nc').waitFor()
    await bench.verdict.filter({ hasText: /^\W*1 error/ }).waitFor()
    await bench.command('Treen: Go to the Gravest Finding of This Job')
    await started.page.locator('.marker-widget').filter({ hasText: 'floor' }).waitFor()
    await shot('gravest')
    await press('Escape')
    await bench.showProblems()
    await bench.problems('depth/thin-floor').first().waitFor()
  })

  test('its fix is applied, and the finding goes from both files', async () => {
    await bench.command('Treen: Go to a Finding with a Fix')
    await bench.pickAction(`to ${SLIP.right}`)
    await bench.problems('depth/thin-floor').first().waitFor({ state: 'detached' })
    await bench.verdict.filter({ hasText: 'job checked' }).waitFor()
    await bench.editor.getByText(SLIP.right).first().waitFor()
  })

  test('a depth is edited, and the finding of the other file comes', async () => {
    await bench.selectByKeys(SLIP.line, SLIP.from, SLIP.from + SLIP.right.length)
    await started.page.keyboard.type(SLIP.wrong)
    const sheet = started.page.locator('.markers-panel .monaco-list-row', {
      hasText: 'fern-dish-one-slip.jobsheet.json',
    })
    await sheet.first().waitFor()
    await bench.verdict.filter({ hasText: /^\W*1 error/ }).waitFor()
  })

  test('what was typed and what was offered are undone by the same key', async () => {
    await press('Control+z')
    await bench.verdict.filter({ hasText: 'job checked' }).waitFor()
    await press('Control+z')
    await bench.verdict.filter({ hasText: /^\W*1 error/ }).waitFor()
    await bench.editor.getByText(SLIP.wrong).first().waitFor()
  })

  test('the preview opens', async () => {
    await bench.command('Treen: Open Preview Beside')
    await bench.webview.locator('canvas.piece').waitFor()
    await shot('preview-by-keys')
    await bench.closeAll()
  })

  test('the set-up sheet opens', async () => {
    await bench.command('Treen: Open a Sample Job')
    await bench.choose('Crescent tray')
    await bench.tab('crescent-tray.jobsheet.json').waitFor()
    await bench.verdict.filter({ hasText: 'job checked' }).waitFor()
    await bench.command('Treen: Open Set-up Sheet Beside')
    await bench.webview.getByText('Crescent tray').first().waitFor()
    await shot('setup-sheet')
    await bench.closeAll()
    await bench.command('Notifications: Clear All Notifications')
  })

  test('a job sheet is begun from the programs of a folder', async () => {
    await bench.openFileByKeys('tray/pocket.nc')
    await bench.verdict.filter({ hasText: 'no blank known' }).waitFor()
    await bench.command('Treen: Begin a Job Sheet from the Programs in This Folder')
    await started.page.locator('.tab.active', { hasText: '.jobsheet.json' }).waitFor()
    await bench.editor.getByText('"blanks"').first().waitFor()
    await bench.verdict.filter({ hasText: /error|warning/ }).waitFor()
    await shot('sheet-begun')
    await bench.closeAll()
  })

  test('all of it can be seen in high contrast', async () => {
    await bench.command('Preferences: Color Theme')
    await bench.choose('Dark High Contrast')
    await started.page.locator('.monaco-workbench.hc-black').waitFor()
    await bench.openFileByKeys('fern-dish-first-draft/cavity.nc')
    await bench.problems('plunge/not-centre-cutting').first().waitFor()
    await bench.command('Treen: Open Preview Beside')
    await bench.webview.locator('canvas.piece').waitFor()
    await bench.webview.locator('progress.carving').waitFor({ state: 'hidden' })
    await shot('high-contrast')
    await bench.closeAll()
    await bench.command('Treen: First Steps')
    await started.page.locator('.gettingStartedContainer').waitFor()
    await shot('first-steps-high-contrast')
    await bench.closeAll()
  })

  // The web's server is a worker of the page: nothing outside can end it, and no list tells its time.
  if (host === 'web') return

  test('a server that is killed twenty times in mid-edit comes back, and no text is lost', async () => {
    await bench.openFileByKeys('fern-dish-first-draft/cavity.nc')
    const plunge = bench.problems('plunge/not-centre-cutting').first()
    await plunge.waitFor()
    let before = await serverProcesses(started.home)
    expect(before).toHaveLength(1)
    const went: number[] = []
    for (let n = 0; n < 20; n++) {
      const at = performance.now()
      const [now, next] = n % 2 === 0 ? ['Z-1', 'Z0'] : ['Z0', 'Z-1']
      await bench.selectByKeys(13, 4, 4 + now.length)
      await started.page.keyboard.type(next.slice(0, 1))
      process.kill(before[0], 'SIGKILL')
      await started.page.keyboard.type(next.slice(1))
      await plunge.waitFor({ state: next === 'Z0' ? 'detached' : 'attached' })
      // What is wrong elsewhere is said again too: the list is that of the new server.
      await bench.problems('inlay/not-revealed').first().waitFor()
      await expect.poll(() => serverProcesses(started.home)).not.toEqual(before)
      before = await serverProcesses(started.home)
      expect(before).toHaveLength(1)
      went.push(Math.round(performance.now() - at))
    }
    console.log(`killed 20 times; findings back after ${Math.min(...went)} to ${Math.max(...went)} ms`)
    // As typed, with what is wrong with it.
    expect(await bench.hasSquiggle('error', 'G1 Z-1 F300', 3, 6)).toBe(true)
  }, 600_000)

  test('activation takes little', async () => {
    const time = await bench.activationTime()
    console.log(`activation in the desktop host: ${time} ms`)
    // The goal is 150 ms on an idle machine, printed by npm run package; here others may be at work.
    expect(time).toBeLessThan(1000)
  })
})
