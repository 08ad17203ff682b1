import type { CleanJob } from '../jobs.ts'
import type { Chance } from '../random.ts'

/** A job with one fault in it. */
export interface Mutant {
  readonly files: ReadonlyMap<string, string>
  /** Where it was planted; lines 0-based. Several where the hand slipped over several. */
  readonly file: string
  readonly line: number
  /** Last line of what was planted; the first where there is only one. */
  readonly lastLine?: number
  /** Set-ups that a wrong sheet makes another thing of, by name. */
  readonly setups?: readonly string[]
}

/** One kind of slip. Undefined where a job gives no occasion for it. */
export interface Kind {
  readonly name: string
  plant(job: CleanJob, chance: Chance): Mutant | undefined
}

export const programsIn = (job: CleanJob): string[] => [...job.files.keys()].filter(name => name.endsWith('.nc'))

/** The lines of one program of a job and a way to put others in their place. */
export interface Sheet {
  readonly file: string
  readonly lines: readonly string[]
}

export function linesOf(job: CleanJob, file: string): string[] {
  return (job.files.get(file) ?? '').split('\n')
}

export function withText(job: CleanJob, file: string, text: string): ReadonlyMap<string, string> {
  return new Map(job.files).set(file, text)
}

/** A comment says nothing to the machine. */
const bare = (line: string): string => line.replace(/\([^)]*\)/g, '')

/**
 * A kind that changes one line: tries the programs and the lines that `fits` in a random order until `change` gives
 * other text (an empty array takes the line out, several are put in its place).
 */
export function lineKind(
  name: string,
  fits: (line: string, before: readonly string[]) => boolean,
  change: (line: string, chance: Chance) => readonly string[] | undefined,
): Kind {
  return {
    name,
    plant(job, chance) {
      const places = programsIn(job).flatMap(file => {
        const lines = linesOf(job, file)
        return lines.flatMap((line, at) => (fits(bare(line), lines.slice(0, at)) ? [{ file, at, lines }] : []))
      })
      for (let tries = 0; tries < 8 && places.length > 0; tries++) {
        const { file, at, lines } = chance.pick(places)
        const changed = change(lines[at], chance)
        if (!changed || changed.join('\n') === lines[at]) continue
        const text = [...lines.slice(0, at), ...changed, ...lines.slice(at + 1)].join('\n')
        return { files: withText(job, file, text), file, line: at, lastLine: at + Math.max(0, changed.length - 1) }
      }
      return undefined
    },
  }
}

/** Replaces one match of a pattern, chosen by chance. */
export function replaceOne(
  line: string,
  pattern: RegExp,
  chance: Chance,
  by: (match: RegExpMatchArray) => string,
): readonly string[] | undefined {
  const matches = [...line.matchAll(pattern)]
  if (matches.length === 0) return undefined
  const match = chance.pick(matches)
  return [line.slice(0, match.index) + by(match) + line.slice(match.index + match[0].length)]
}

/** A kind that changes the words of a whole program: the first line that changes is the planted one. */
export function programKind(name: string, change: (line: string) => string | undefined): Kind {
  return {
    name,
    plant(job, chance) {
      const fitting = programsIn(job).filter(file => linesOf(job, file).some(line => change(line) !== line))
      if (fitting.length === 0) return undefined
      const file = chance.pick(fitting)
      const lines = linesOf(job, file)
      const changed = lines.map(change)
      const line = changed.findIndex((text, at) => text !== lines[at])
      return { files: withText(job, file, changed.filter(text => text !== undefined).join('\n')), file, line }
    },
  }
}

type Json = Record<string, unknown>

/** What a sheet says, open to change. */
export interface SheetJson {
  units?: string
  bits: Record<string, Json>
  blanks: Record<string, Json>
  setups: Json[]
  machine: Json
  limits: Json
  [field: string]: unknown
}

/**
 * A kind that changes the sheet. The planted line is that of the first difference; what follows from a wrong sheet
 * shows elsewhere, at the programs that meet it.
 */
export function sheetKind(
  name: string,
  change: (sheet: SheetJson, chance: Chance, job: CleanJob) => boolean,
  read: (text: string) => SheetJson,
): Kind {
  return {
    name,
    plant(job, chance) {
      const before = read(job.files.get(job.sheet) ?? '')
      const text = JSON.stringify(before, null, 2)
      const sheet = structuredClone(before)
      if (!change(sheet, chance, job)) return undefined
      const after = JSON.stringify(sheet, null, 2)
      if (after === text) return undefined
      const [old, now] = [text.split('\n'), after.split('\n')]
      const line = now.findIndex((own, at) => own !== old[at])
      const written = (setups: readonly Json[]) => new Set(setups.map(setup => JSON.stringify(setup)))
      const others = written(before.setups)
      const setups = sheet.setups.filter(setup => !others.has(JSON.stringify(setup))).map(setup => String(setup.name))
      return { files: withText(job, job.sheet, after), file: job.sheet, line: Math.max(0, line), setups }
    },
  }
}
