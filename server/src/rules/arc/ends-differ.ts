import { problemRule } from '../common/problemRule.ts'

export const arcEndsDiffer = problemRule(
  'arc/ends-differ',
  'an arc whose start and end are not equally far from its centre',
  'error',
  'centre',
)
