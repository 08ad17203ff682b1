import type { Program } from '../machine/program.ts'
import { copyFigures } from './figures/copyFigures.ts'
import { type Memo, newMemo } from './memo.ts'
import type { CopyOutcome, JobOutcome } from './outcome.ts'
import type { Fault } from './reading/schemaProblems.ts'
import { runCopy } from './runCopy.ts'
import type { Sheet } from './sheet.ts'
import type { SheetDocument } from './sheetDocument.ts'
import { startingBits } from './startingBits.ts'

/** A sheet and its programs, read. */
export interface LoadedJob {
  readonly document: SheetDocument
  /** By URI; a program that could not be read is not there. */
  readonly programs: ReadonlyMap<string, Program>
}

/**
 * Works out a whole job: every set-up on every copy, and the figures of each. Pure; `memo` keeps what does not depend on
 * an edit. Undefined where the sheet is not one that a job can be made of.
 */
export function runJob({ document, programs }: LoadedJob, memo: Memo = newMemo()): JobOutcome | undefined {
  const { sheet } = document
  if (!sheet) return undefined
  const faults = new Map<string, Fault>()
  const withheld = new Set<string>()
  const work = {
    sheet,
    programs,
    starts: startingBits(sheet, programs),
    memo,
    problem: (fault: Fault) => void faults.set(`${fault.code} ${fault.path.join(' ')}`, fault),
    withhold: (why: string) => void withheld.add(why),
  }
  const copies = copiesOf(sheet).map((copy): CopyOutcome => {
    const { setups, inserts, chains } = runCopy(copy, work)
    const chain = chains.get(pieceBlank(sheet))
    return { copy, setups, inserts, figures: chain ? copyFigures(chain, memo) : {} }
  })
  memo.sweep()
  const problems = [...faults.values()].map(({ code, path, message, found, limit }) => {
    return { code, range: document.rangeOf(path), message, found, limit }
  })
  return { document, sheet, copies, withheld: [...withheld], problems }
}

/** Copies that any blank lists; one without a name where none does. */
export function copiesOf({ blanks }: Sheet): string[] {
  const names = new Set([...blanks.values()].flatMap(blank => [...blank.copies.keys()]))
  return names.size ? [...names] : ['']
}

/** The blank that becomes the piece: it gets the cavity, else the insert, else the pocket, else it is the last one cut. */
export function pieceBlank({ setups }: Sheet): string {
  const cut = setups.filter(setup => setup.kind === 'program')
  const piece =
    cut.find(({ makes }) => makes === 'cavity') ??
    setups.find(({ kind }) => kind === 'insert') ??
    cut.find(({ makes }) => makes === 'pocket') ??
    cut.findLast(({ makes }) => makes !== 'plug') ??
    cut.at(-1)
  return piece?.blank ?? ''
}
