import { problemRule } from '../common/problemRule.ts'

export const syntaxBadWord = problemRule(
  'syntax/bad-word',
  'something that is no word of the language',
  'error',
  'remark',
)
