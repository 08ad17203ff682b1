import { sheetProblemRule } from '../common/sheetProblemRule.ts'

export const sheetDeclarationNotRead = sheetProblemRule(
  'sheet/declaration-not-read',
  'a comment that begins like a declaration but does not fit',
  'information',
)
