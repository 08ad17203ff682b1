import { existsSync, readFileSync } from 'node:fs'
import { pathToFileURL } from 'node:url'
import { type CheckSettings, checkUnit, newKept } from '../../server/src/features/check.ts'
import { previewJobOf } from '../../server/src/features/preview/pack.ts'
import { previewPage } from '../../server/src/features/preview/page.ts'
import type { PreviewJob } from '../../server/src/features/preview/protocol.ts'
import { jobToText } from '../../server/src/features/preview/wire.ts'
import { findBrowser } from '../../server/src/wiring/cli/browser.ts'
import { inBrowser, type OpenPage } from '../../server/src/wiring/cli/headless.ts'
import { diskWorkspace } from '../../server/src/wiring/diskWorkspace.ts'
import { below, median, type Row, told } from './harness.ts'

const SAMPLES = ['fern-dish', 'crescent-tray']
/** Jumps to and fro over the whole job. */
const JUMPS = 12

/** What the page of the preview takes in a real browser: to build a job, after an edit, and for a jump in time. */
export async function rows(): Promise<Row[]> {
  const browser = findBrowser()
  if (!browser) return [told('preview: left out, for no browser is found', '', Number.NaN)]
  if (!existsSync('dist/webview.js')) return [told('preview: left out, for dist/ is not built', '', Number.NaN)]
  const all: Row[] = []
  for (const sample of SAMPLES) all.push(...(await sampleRows(browser, sample)))
  return all
}

async function sampleRows(browser: string, sample: string): Promise<Row[]> {
  const job = await jobOf(sample)
  const parts = {
    script: readFileSync('dist/webview.js', 'utf8'),
    style: readFileSync('dist/webview.css', 'utf8'),
    nonce: 'bench',
  }
  return inBrowser(browser, previewPage(job, parts), { width: 640, height: 420, scheme: 'light' }, async page => {
    await page.until(`${PAGE}?.built && ${PAGE}.still`)
    const [built, picture, refine, renderer] = await said(page, 'built', 'ms', 'refine', 'renderer')
    const jumps = await jumpsOf(page, job)
    const update = await updateOf(page, job)
    const name = (what: string) => `preview of ${sample} (${nameOf(renderer)}): ${what}`
    return [
      told(name('build in the worker'), 'ms', Number(built)),
      told(name('a picture in the worker, at the end of the job'), 'ms', Number(picture)),
      told(name('walls made crisp, when at rest'), 'ms', Number(refine)),
      below(name(`jump in the worker, middle of ${JUMPS}`), 'ms', median(jumps), 100),
      below(name(`jump in the worker, longest of ${JUMPS}`), 'ms', Math.max(...jumps), 100),
      told(name('one depth edited, to wood carved again'), 'ms', update),
    ]
  })
}

const PAGE = `document.querySelector('.page')?.dataset`

const said = (page: OpenPage, ...names: string[]) =>
  page.evaluate<string[]>(`(page => ${JSON.stringify(names)}.map(name => page[name]))(${PAGE})`)

/** A renderer's name as its driver gives it is a list of versions; its own name stands in it. */
const nameOf = (renderer: string) => (/swiftshader|llvmpipe/i.exec(renderer)?.[0] ?? renderer).slice(0, 40)

/** Times of jumps through all programs of the job, in an order that goes back and forth. */
async function jumpsOf(page: OpenPage, job: PreviewJob): Promise<number[]> {
  const programs = job.setups.flatMap((setup, index) => (setup.kind === 'program' ? [{ setup, index }] : []))
  const times: number[] = []
  for (let k = 0; k < JUMPS; k++) {
    const { setup } = programs[(k * 7) % programs.length]
    const { line, count } = setup.motions
    const target = line[Math.floor(((k * 37 + 11) % 100) * 0.01 * count)]
    // Asked again and again until it is the last: what came before is then done.
    await page.evaluate(`new Promise(done => {
      const page = document.querySelector('.page')
      const before = page.dataset.shown
      window.postMessage({ type: 'caret', program: ${JSON.stringify(setup.program)}, line: ${target} }, '*')
      const asked = performance.now()
      const look = () => page.dataset.shown !== before || performance.now() - asked > 20000 ? done() : requestAnimationFrame(look)
      requestAnimationFrame(look)
    })`)
    times.push(Number((await said(page, 'ms'))[0]))
  }
  return times
}

/** Milliseconds from an edit's job to its wood: the deepest pass of the last program that cuts goes deeper. */
async function updateOf(page: OpenPage, job: PreviewJob): Promise<number> {
  const at = job.setups.findIndex(setup => setup.kind === 'program' && setup.makes === 'cavity')
  const setups = job.setups.map((setup, index) => {
    if (index !== at || setup.kind !== 'program') return setup
    const deepest = setup.motions.z.reduce((a, b) => Math.min(a, b), Number.POSITIVE_INFINITY)
    const z = setup.motions.z.map(each => (each === deepest ? deepest - 0.2 : each))
    return { ...setup, motions: { ...setup.motions, z } }
  })
  const text = JSON.stringify(jobToText({ ...job, setups })).replaceAll('</', '<\\/')
  await page.evaluate(`window.postMessage({ type: 'packed', job: ${text} }, '*')`)
  await page.until(`${PAGE}.built && Number(${PAGE}.anew) < ${job.setups.length}`)
  return Number((await said(page, 'built'))[0])
}

const settings: CheckSettings = {
  severity: {},
  dialect: { base: 'rs274ngc', add: [], remove: [] },
  roots: [pathToFileURL('/').toString()],
}

async function jobOf(sample: string): Promise<PreviewJob> {
  const sheet = pathToFileURL(`samples/${sample}/${sample}.jobsheet.json`).toString()
  const { outcome, findings } = await checkUnit(diskWorkspace, sheet, settings, newKept())
  if (!outcome?.copies.length) throw new Error('The sample job was not worked out: there is nothing to measure.')
  return previewJobOf(outcome, outcome.copies[0].copy, findings)
}
