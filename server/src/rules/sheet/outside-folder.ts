import { sheetProblemRule } from '../common/sheetProblemRule.ts'

export const sheetOutsideFolder = sheetProblemRule(
  'sheet/outside-folder',
  'the program lies outside the folder that is open',
)
