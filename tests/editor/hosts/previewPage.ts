import { mkdtemp, readFile, rm, writeFile } from 'node:fs/promises'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { pathToFileURL } from 'node:url'
import type { BrowserContext, Page } from 'playwright-core'
import { previewPage } from '../../../server/src/features/preview/page.ts'
import type { ChosenView, PreviewJob } from '../../../server/src/features/preview/protocol.ts'
import { openBrowser } from './browser.ts'

/** The preview's page by itself in a real browser, which draws in software. */
export interface PreviewPages {
  readonly browser: BrowserContext
  open(job: PreviewJob | undefined, options?: PageOptions): Promise<Page>
  close(): Promise<void>
}

export interface PageOptions {
  readonly view?: ChosenView
  readonly width?: number
  readonly height?: number
  readonly scheme?: 'light' | 'dark'
  /** Classes that an editor gives its pages. */
  readonly theme?: string
}

/** Pages are small unless they are to be looked at: the software renderer is slow. */
const SMALL = { width: 760, height: 520 }

export async function previewPages(): Promise<PreviewPages> {
  const folder = await mkdtemp(join(tmpdir(), 'treen-preview-'))
  const browser = await openBrowser(join(folder, 'profile'))
  let files = 0
  return {
    browser,
    async open(job, { view, width = SMALL.width, height = SMALL.height, scheme = 'light', theme = '' } = {}) {
      const path = join(folder, `page${files++}.html`)
      const parts = {
        script: await readFile('dist/webview.js', 'utf8'),
        style: await readFile('dist/webview.css', 'utf8'),
        nonce: `n${files}`,
      }
      await writeFile(path, previewPage(job, parts, view).replace('<body>', `<body class="${theme}">`))
      const page = await browser.newPage()
      await page.setViewportSize({ width, height })
      await page.emulateMedia({ reducedMotion: 'reduce', colorScheme: scheme })
      await page.goto(pathToFileURL(path).href)
      return page
    },
    async close() {
      await browser.close()
      await rm(folder, { recursive: true, force: true, maxRetries: 3 })
    },
  }
}

/** Waits until the picture is as fine as it gets. */
export async function untilStill(page: Page): Promise<void> {
  await page.waitForFunction(() => document.querySelector<HTMLElement>('.page')?.dataset.still, undefined, {
    timeout: 200_000,
  })
}

/** What the page says of itself. */
export function saidBy(page: Page): Promise<Record<string, string | undefined>> {
  return page.evaluate(() => ({ ...document.querySelector<HTMLElement>('.page')!.dataset }))
}
