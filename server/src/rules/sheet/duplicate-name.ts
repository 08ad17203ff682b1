import { sheetProblemRule } from '../common/sheetProblemRule.ts'

export const sheetDuplicateName = sheetProblemRule('sheet/duplicate-name', 'two set-ups have one name')
