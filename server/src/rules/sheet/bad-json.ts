import { sheetProblemRule } from '../common/sheetProblemRule.ts'

export const sheetBadJson = sheetProblemRule('sheet/bad-json', 'the sheet cannot be read as JSON')
