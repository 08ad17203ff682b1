import { extentsOf } from '../job/figures/extents.ts'
import type { Program } from '../machine/program.ts'
import { blankComment, lineOfBlankComment } from './sheet/draftBlank.ts'
import { makeSheet } from './sheet/makeSheet.ts'

/** Something a person may choose to have done to the text, or to a new file beside it. */
export type Offer =
  | { readonly title: string; readonly insert: { readonly line: number; readonly text: string } }
  | { readonly title: string; readonly create: { readonly fileName: string; readonly text: string } }

/** What can be done for a program that says nothing of its wood: declare the blank, or begin a sheet. */
export function offersFor(fileName: string, program: Program): Offer[] {
  const { cut: cuts } = extentsOf(program)
  if (!cuts || program.forPrinter) return []
  const text = makeSheet(fileName.replace(/\.[^.]*$/, ''), [{ name: fileName, program }])
  return [
    ...(text === undefined
      ? []
      : [{ title: 'Begin a job sheet for this program', create: { fileName: sheetName(fileName), text } }]),
    {
      title: 'Declare the blank in a comment',
      insert: { line: lineOfBlankComment(program), text: `${blankComment(cuts)}\n` },
    },
  ]
}

/** The name of a sheet that is begun for a program. */
export function sheetName(fileName: string): string {
  return `${fileName.replace(/\.[^.]*$/, '')}.jobsheet.json`
}
