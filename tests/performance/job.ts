import { readdirSync, readFileSync } from 'node:fs'
import { join } from 'node:path'
import { type CheckSettings, checkText, checkUnit, newKept } from '../../server/src/features/check.ts'
import type { Workspace } from '../../server/src/job/workspace.ts'
import { atMost, median, type Row, timed, told } from './harness.ts'

const settings: CheckSettings = {
  severity: {},
  dialect: { base: 'rs274ngc', add: [], remove: [] },
  roots: ['file:///dish/'],
}
const sheet = 'file:///dish/fern-dish.jobsheet.json'
const edited = 'file:///dish/cavity.nc'

/** What a keystroke costs in the fern dish's job: one number of the cavity's program, another each time. */
export async function rows(): Promise<readonly Row[]> {
  const files = new Map<string, Uint8Array>()
  const folder = join(process.cwd(), 'samples/fern-dish')
  for (const name of readdirSync(folder)) files.set(`file:///dish/${name}`, readFileSync(join(folder, name)))
  const workspace: Workspace = { read: async uri => files.get(uri), list: async () => [...files.keys()] }
  const original = new TextDecoder().decode(files.get(edited))
  let stroke = 0
  /** The 200th coordinate, a few thousandths away from where it was and from all other strokes. */
  const type = () => {
    stroke++
    let seen = 0
    const text = original.replace(/X(\d+)(\.\d+)?/g, (word, whole) =>
      ++seen === 200 ? `X${whole}.${String(100 + stroke)}` : word,
    )
    files.set(edited, new TextEncoder().encode(text))
  }

  const { outcome } = await checkUnit(workspace, sheet, settings, newKept())
  if (outcome?.copies.length !== 2) throw new Error('The sample job was not worked out: there is nothing to measure.')
  const whole: number[] = []
  const again: number[] = []
  const first: number[] = []
  for (let round = 0; round < 5; round++) {
    type()
    whole.push(await timed(() => checkUnit(workspace, sheet, settings, newKept())))
    const kept = newKept()
    await checkUnit(workspace, sheet, settings, kept)
    type()
    first.push(await timed(() => checkText(workspace, edited, settings, outcome.sheet)))
    again.push(await timed(() => checkUnit(workspace, sheet, settings, kept)))
  }
  return [
    atMost('a keystroke in the cavity: all figures and findings of the job', 'ms', median(again), median(whole), 0.1),
    told('a keystroke in the cavity: the first findings of the edited program', 'ms', median(first)),
  ]
}
