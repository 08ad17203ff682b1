import { sheetProblemRule } from '../common/sheetProblemRule.ts'

export const sheetUnknownSetup = sheetProblemRule(
  'sheet/unknown-setup',
  'a set-up that the sheet does not list',
  'error',
  'name',
)
