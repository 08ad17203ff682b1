import { problemRule } from '../common/problemRule.ts'

export const syntaxUnclosedComment = problemRule(
  'syntax/unclosed-comment',
  'a bracket that opens a comment and never closes it',
  'error',
  'bracket',
)
