import { problemRule } from '../common/problemRule.ts'

export const syntaxNotInDialect = problemRule(
  'syntax/not-in-dialect',
  'a word that this machine does not know',
  'error',
  'instead',
)
