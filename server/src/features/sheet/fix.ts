import type { Finding } from '../../rules/rule.ts'
import type { Range } from '../../syntax/source.ts'

/** An edit that does away with a finding. */
export interface Fix {
  /** What is done, with the numbers. */
  readonly title: string
  /** URI of the text that is edited: not always the one that the finding stands in. */
  readonly file: string
  readonly edits: readonly { readonly range: Range; readonly text: string }[]
  readonly finding: Finding
}
