import { sheetProblemRule } from '../common/sheetProblemRule.ts'

export const sheetPinsNotSymmetric = sheetProblemRule(
  'sheet/pins-not-symmetric',
  'turned over, the pins do not land on one another',
)
