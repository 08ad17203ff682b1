import { sheetProblemRule } from '../common/sheetProblemRule.ts'

export const sheetUnknownBit = sheetProblemRule(
  'sheet/unknown-bit',
  'a bit that the sheet does not list',
  'error',
  'name',
)
