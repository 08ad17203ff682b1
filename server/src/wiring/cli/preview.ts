import { randomBytes } from 'node:crypto'
import { readFile } from 'node:fs/promises'
import { join } from 'node:path'
import type { Checked } from '../../features/check.ts'
import type { FirstJob } from '../../features/firstJob.ts'
import { previewJobOf } from '../../features/preview/pack.ts'
import { previewPage } from '../../features/preview/page.ts'
import type { ChosenView } from '../../features/preview/protocol.ts'
import { BROWSER_VARIABLE, findBrowser } from './browser.ts'
import { inBrowser, type Seen } from './headless.ts'
import { jobAt, jobIn } from './jobAt.ts'
import { UsageError } from './usageError.ts'
import { write } from './write.ts'

export interface PreviewOptions {
  readonly out?: string
  readonly image?: string
  readonly view?: ChosenView['stance']
  readonly surface?: ChosenView['surface']
  readonly at?: string
  readonly cut?: string
  readonly size: string
  readonly scheme: Seen['scheme']
}

/** True in the page once its picture is as fine as it gets, or there will be none. */
const READY = `(page => page && (page.dataset.still || page.classList.contains('flat')))(document.querySelector('.page'))`

/**
 * `treen preview`: writes the page, or a picture of it, for a sheet, for a program in the first job that names it, or
 * for a folder's job.
 * @throws UsageError where there is nothing to show, no browser to draw it with, or a file cannot be written
 */
export async function previewCommand(path: string, options: PreviewOptions): Promise<void> {
  const { out, image } = options
  if (out === undefined && image === undefined)
    throw new UsageError('say where to write: --out page.html or --image picture.png')
  const view = chosenView(options)
  const seen = { ...sizeOf(options.size), scheme: options.scheme }
  const browser = image === undefined ? '' : findBrowser()
  if (browser === undefined) {
    throw new UsageError(
      `${image}: a picture is drawn by a browser without a window, and none is found; install Chromium, or say where one is in ${BROWSER_VARIABLE}. --out writes the page, which any browser shows`,
    )
  }
  const page = await pageOf(await jobAt(path), path, view)
  if (out !== undefined) {
    await write(out, page)
    process.stdout.write(`${out} is written: open it in any browser, it needs nothing else\n`)
  }
  if (image !== undefined) {
    const picture = await inBrowser(browser, page, seen, async open => {
      await open.until(READY)
      return open.picture()
    }).catch((error: Error) => {
      throw new UsageError(`${image}: ${browser} did not draw it: ${error.message}`)
    })
    await write(image, picture)
    process.stdout.write(`${image} is written\n`)
  }
}

/**
 * Writes the preview of the first job of a check as one page.
 * @throws UsageError where there is no job, or the page cannot be written
 */
export async function writePreview(checks: readonly Checked[], path: string, out: string): Promise<void> {
  await write(out, await pageOf(jobIn(checks, path), path))
}

async function pageOf({ outcome, findings }: FirstJob, path: string, view: ChosenView = {}): Promise<string> {
  const job = previewJobOf(outcome, '', findings)
  if (view.setup !== undefined && !job.setups.some(setup => setup.name === view.setup)) {
    const known = job.setups.map(setup => `"${setup.name}"`).join(', ')
    throw new UsageError(`${path}: there is no set-up "${view.setup}"; there are ${known}`)
  }
  const parts = {
    script: await readFile(join(__dirname, 'webview.js'), 'utf8'),
    style: await readFile(join(__dirname, 'webview.css'), 'utf8'),
    nonce: randomBytes(16).toString('base64url'),
  }
  return previewPage(job, parts, Object.keys(view).length ? view : undefined)
}

function chosenView({ view, surface, at, cut }: PreviewOptions): ChosenView {
  const plane = cut === undefined ? undefined : planeOf(cut)
  return {
    ...(view && { stance: view }),
    ...(surface && { surface }),
    ...(at !== undefined && { setup: at }),
    ...(plane && { plane }),
  }
}

function planeOf(text: string): NonNullable<ChosenView['plane']> {
  const [, axis, at] = /^([xy])=(-?\d+(?:\.\d+)?)$/i.exec(text) ?? []
  if (!axis) throw new UsageError(`--cut ${text}: write it as x=120 or y=80.5, in mm from the blank's near-left corner`)
  return { axis: axis.toLowerCase() as 'x' | 'y', at: Number(at) }
}

/** Sizes that a browser draws without complaint, px. */
const LEAST = 200
const MOST = 8000

function sizeOf(text: string): { width: number; height: number } {
  const [, width, height] = (/^(\d+)x(\d+)$/.exec(text) ?? []).map(Number)
  if (!(width >= LEAST && height >= LEAST && width <= MOST && height <= MOST)) {
    throw new UsageError(`--size ${text}: write it as 1280x800, each from ${LEAST} to ${MOST}`)
  }
  return { width, height }
}
