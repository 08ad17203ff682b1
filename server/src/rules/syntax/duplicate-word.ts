import { problemRule } from '../common/problemRule.ts'

export const syntaxDuplicateWord = problemRule(
  'syntax/duplicate-word',
  'the same letter twice on a line',
  'error',
  'one-word',
)
