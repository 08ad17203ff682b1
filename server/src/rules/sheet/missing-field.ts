import { sheetProblemRule } from '../common/sheetProblemRule.ts'

export const sheetMissingField = sheetProblemRule('sheet/missing-field', 'a field that is needed is not there')
