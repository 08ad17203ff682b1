import { problemRule } from '../common/problemRule.ts'

export const syntaxBadExpression = problemRule(
  'syntax/bad-expression',
  'an expression or parameter that cannot be worked out',
  'error',
)
