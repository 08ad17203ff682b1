import { readdirSync, readFileSync } from 'node:fs'
import { join } from 'node:path'
import type { Chance } from './random.ts'
import { type Design, designFrom, withExtras } from './shop/design.ts'
import { programsOf } from './shop/programs.ts'
import { sheetOf } from './shop/sheet.ts'

/** One job that is right: its files by name, and which of them is the sheet. */
export interface CleanJob {
  readonly name: string
  readonly sheet: string
  readonly files: ReadonlyMap<string, string>
  /** Absent for the samples, which are kept and not made here. */
  readonly design?: Design
}

/** The clean samples that have a sheet. `samples` is their folder. */
export function sampleJobs(samples: string): CleanJob[] {
  return ['crescent-tray', 'fern-dish'].map(name => {
    const folder = join(samples, name)
    const names = readdirSync(folder).filter(file => /\.(nc|json)$/.test(file))
    const files = new Map(names.map(file => [file, readFileSync(join(folder, file), 'utf8')]))
    return { name, sheet: `${name}.jobsheet.json`, files }
  })
}

/** A small job of the `index`th kind of motif, everything else by chance. */
export function makeJob(index: number, chance: Chance): CleanJob {
  return jobOf(designFrom(index, chance), `made-${index + 1}`)
}

/** One that is as right, written as hands write that the judge cannot read. */
export function makeVariedJob(index: number, chance: Chance): CleanJob {
  return jobOf(withExtras(designFrom(index, chance), chance), `varied-${index + 1}`)
}

export function jobOf(design: Design, name: string): CleanJob {
  const sheet = `${name}.jobsheet.json`
  return { name, sheet, design, files: new Map([[sheet, sheetOf(design)], ...programsOf(design)]) }
}
