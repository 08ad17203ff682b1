import type { Program } from '../machine/program.ts'
import { readProgram } from '../machine/readProgram.ts'
import { USUAL, type Usual } from './reading/defaults.ts'
import { hintFor } from './reading/nearestName.ts'
import { readSheet } from './readSheet.ts'
import type { LoadedJob } from './runJob.ts'
import type { DialectChoice, Sheet } from './sheet.ts'
import type { SheetDocument, SheetProblem } from './sheetDocument.ts'
import { fileName, folderOf } from './uris.ts'
import type { Workspace } from './workspace.ts'

/** What was read before, so that only what changed is read again: the same bytes give the same object. */
export interface ProgramShelf {
  /** @param diameters of the bits by number, mm, for what G41 and G42 do */
  read(uri: string, bytes: Uint8Array, dialect: DialectChoice, diameters?: Diameters): Program
  sheet(uri: string, bytes: Uint8Array, usual: Usual): SheetDocument
}

export type Diameters = ReadonlyMap<number, number>

/** A shelf that keeps the last reading of each program in each dialect that it is read in, and of each sheet. */
export function newProgramShelf(): ProgramShelf {
  const programs = lastReadings<Program>()
  const sheets = lastReadings<SheetDocument>()
  return {
    read: (uri, bytes, dialect, toolDiameters) =>
      programs(`${uri}\n${JSON.stringify([dialect, [...(toolDiameters ?? [])]])}`, bytes, () =>
        readProgram(bytes, { dialect, toolDiameters }),
      ),
    sheet: (uri, bytes, usual) =>
      sheets(`${uri}\n${JSON.stringify(usual)}`, bytes, () => readSheet(uri, new TextDecoder().decode(bytes), usual)),
  }
}

function lastReadings<T>(): (key: string, bytes: Uint8Array, read: () => T) => T {
  const kept = new Map<string, { readonly bytes: Uint8Array; readonly reading: T }>()
  return (key, bytes, read) => {
    const last = kept.get(key)
    if (last && sameBytes(last.bytes, bytes)) return last.reading
    const reading = read()
    kept.set(key, { bytes: bytes.slice(), reading })
    return reading
  }
}

function sameBytes(a: Uint8Array, b: Uint8Array): boolean {
  if (a.length !== b.length) return false
  for (let n = 0; n < a.length; n++) if (a[n] !== b[n]) return false
  return true
}

/** What of the files a job may take in. */
export interface Reach {
  /** Whether a program may be read at all, by its URI. */
  readonly mayRead?: (program: string) => boolean
  /** Bytes of the largest program that is run. */
  readonly largest?: number
}

/**
 * Reads a sheet and all the programs that it names. A program that is not there is a problem at the field that names
 * it, and so is one that may not be read. Undefined where the sheet itself cannot be read. `usual` holds where the sheet
 * is silent.
 */
export async function loadJob(
  workspace: Workspace,
  sheetUri: string,
  shelf: ProgramShelf = newProgramShelf(),
  usual: Usual = USUAL,
  { mayRead = () => true, largest = Number.POSITIVE_INFINITY }: Reach = {},
): Promise<LoadedJob | undefined> {
  const bytes = await workspace.read(sheetUri)
  if (!bytes) return undefined
  const document = shelf.sheet(sheetUri, bytes, usual)
  const { sheet } = document
  if (!sheet) return { document, programs: new Map() }
  const programs = new Map<string, Program>()
  const missing: SheetProblem[] = []
  for (const setup of sheet.setups) {
    if (setup.kind !== 'program' || programs.has(setup.program)) continue
    if (!mayRead(setup.program)) {
      missing.push(outsideFolder(document, setup.index))
      continue
    }
    const text = await workspace.read(setup.program)
    if (text && text.length > largest) missing.push(largeProgram(document, setup.index, text.length, largest))
    else if (text) {
      const diameters = diametersFor(sheet, setup.program)
      programs.set(setup.program, shelf.read(setup.program, text, sheet.machine.dialect, diameters))
    } else missing.push(await missingFile(workspace, document, setup.index, setup.program))
  }
  if (missing.length === 0) return { document, programs }
  return { document: { ...document, problems: [...document.problems, ...missing] }, programs }
}

/**
 * Diameters of a sheet's bits, mm, by number. A program without T words compensates for the bit that stands in the
 * spindle when it begins (number 0), where all its set-ups say the same one.
 */
export function diametersFor({ bits, setups }: Sheet, program: string): Diameters {
  const diameters = new Map([...bits].map(([number, { diameter }]) => [number, diameter]))
  const starts = new Set(setups.flatMap(each => (each.kind === 'program' && each.program === program ? each.bit : [])))
  const [start] = starts
  const known = starts.size === 1 && start !== undefined ? diameters.get(start) : undefined
  if (known !== undefined && !diameters.has(0)) diameters.set(0, known)
  return diameters
}

function largeProgram(document: SheetDocument, index: number, bytes: number, largest: number): SheetProblem {
  const megabytes = (count: number) => `${Math.round(count / 1e5) / 10} MB`
  return {
    code: 'sheet/too-large',
    range: document.rangeOf(['setups', index, 'program']),
    message: `This program has ${megabytes(bytes)}, and the job of one over ${megabytes(largest)} is not run in the editor; this set-up and all after it on the same blank are not checked. Check it on the command line, or raise the limit in the settings.`,
  }
}

function outsideFolder(document: SheetDocument, index: number): SheetProblem {
  return {
    code: 'sheet/outside-folder',
    range: document.rangeOf(['setups', index, 'program']),
    message:
      'This program lies outside the folder that is open, so it is not read; this set-up and all after it on the same blank are not checked. Put the program beside the sheet, open a folder that holds both, or allow it in the settings.',
  }
}

async function missingFile(
  workspace: Workspace,
  document: SheetDocument,
  index: number,
  program: string,
): Promise<SheetProblem> {
  const beside = (await workspace.list(folderOf(program))).filter(name => !name.endsWith('.jobsheet.json'))
  const name = fileName(program)
  return {
    code: 'sheet/missing-file',
    range: document.rangeOf(['setups', index, 'program']),
    message: `There is no file "${name}" there, or it cannot be read; this set-up and all after it on the same blank are not checked.${hintFor(name, beside.slice(0, 24))}`,
  }
}
