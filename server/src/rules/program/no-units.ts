import { problemRule } from '../common/problemRule.ts'

export const programNoUnits = problemRule(
  'program/no-units',
  'lengths before G20 or G21 has been said',
  'warning',
  'units',
)
