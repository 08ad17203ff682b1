import { coaster } from './coaster.ts'
import { crescentTray } from './crescent.ts'
import { fernDish } from './fern.ts'

/** Every file that is made, by its name under `samples/`. */
export function sampleFiles(): Map<string, string> {
  const files = new Map<string, string>()
  const add = (folder: string, made: Map<string, string>): void => {
    for (const [name, text] of made) files.set(`${folder}/${name}`, text)
  }
  add('fern-dish', fernDish())
  add('crescent-tray', crescentTray())
  add('single-program', coaster())
  return files
}
