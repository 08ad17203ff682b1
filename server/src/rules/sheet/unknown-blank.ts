import { sheetProblemRule } from '../common/sheetProblemRule.ts'

export const sheetUnknownBlank = sheetProblemRule(
  'sheet/unknown-blank',
  'a blank that the sheet does not list',
  'error',
  'name',
)
