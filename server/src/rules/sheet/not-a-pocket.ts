import { sheetProblemRule } from '../common/sheetProblemRule.ts'

export const sheetNotAPocket = sheetProblemRule(
  'sheet/not-a-pocket',
  'the insert goes into something that is no pocket',
)
