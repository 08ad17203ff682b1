import { sheetProblemRule } from '../common/sheetProblemRule.ts'

export const sheetBadNumber = sheetProblemRule('sheet/bad-number', 'a number that cannot be')
