import { sheetProblemRule } from '../common/sheetProblemRule.ts'

export const sheetBadValue = sheetProblemRule('sheet/bad-value', 'a value that the field cannot take')
