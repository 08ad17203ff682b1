import { problemRule } from '../common/problemRule.ts'

export const arcWrongPlane = problemRule(
  'arc/wrong-plane',
  'centre words that do not belong to the plane in force',
  'error',
)
