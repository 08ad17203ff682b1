import { sheetProblemRule } from '../common/sheetProblemRule.ts'

export const sheetDuplicateField = sheetProblemRule('sheet/duplicate-field', 'a field is written twice')
