import { problemRule } from '../common/problemRule.ts'

export const syntaxReadTwoWays = problemRule(
  'syntax/read-two-ways',
  'a line that two machines may take two ways',
  'warning',
)
