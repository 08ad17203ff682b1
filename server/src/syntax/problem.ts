import type { TextSpan } from './source.ts'

/**
 * Something wrong that reading the text or running its modal state has met. The stage that meets it is the one
 * that can word it; the rule of the same code decides how grave it is and whether it is shown at all.
 */
export interface Problem {
  /** A finding code of the contract, e.g. `syntax/bad-word`. */
  readonly code: string
  readonly span: TextSpan
  /** In plain words: what is wrong, what will happen at the machine, what to do. */
  readonly message: string
  readonly found?: number
  readonly limit?: number
  readonly related?: readonly { readonly span: TextSpan; readonly message: string }[]
}
