import { readFileSync } from 'node:fs'
import { coaster } from './coaster.ts'
import { crescentTray } from './crescent.ts'
import { fernDish } from './fern.ts'
import { firstDraft } from './firstDraft.ts'

/** Every file that is made, by its name under `samples/`; sheets and the other READMEs are kept by hand. */
export function sampleFiles(): Map<string, string> {
  const files = new Map<string, string>()
  const add = (folder: string, made: ReadonlyMap<string, string>): void => {
    for (const [name, text] of made) files.set(`${folder}/${name}`, text)
  }
  const fern = fernDish()
  const sheet = readFileSync(new URL('../fern-dish/fern-dish.jobsheet.json', import.meta.url), 'utf8')
  add('fern-dish', fern)
  add('fern-dish-first-draft', firstDraft(fern, sheet))
  add('crescent-tray', crescentTray())
  add('single-program', coaster())
  return files
}
