import { sheetProblemRule } from '../common/sheetProblemRule.ts'

export const sheetMissingFile = sheetProblemRule('sheet/missing-file', 'the program is not there', 'error', 'name')
