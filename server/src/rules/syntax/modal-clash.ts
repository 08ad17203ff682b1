import { problemRule } from '../common/problemRule.ts'

export const syntaxModalClash = problemRule(
  'syntax/modal-clash',
  'two words on a line that exclude each other',
  'error',
)
