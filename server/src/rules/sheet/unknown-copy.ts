import { sheetProblemRule } from '../common/sheetProblemRule.ts'

export const sheetUnknownCopy = sheetProblemRule('sheet/unknown-copy', 'a copy that no blank has', 'error', 'name')
