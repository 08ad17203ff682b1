import { sheetProblemRule } from '../common/sheetProblemRule.ts'

export const sheetUnknownField = sheetProblemRule(
  'sheet/unknown-field',
  'a field that a job sheet does not have',
  'error',
  'name',
)
