import { problemRule } from '../common/problemRule.ts'

export const syntaxBadNumber = problemRule(
  'syntax/bad-number',
  'a number that cannot be read, or is out of its range',
  'error',
  'number',
)
