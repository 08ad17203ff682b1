import { sheetProblemRule } from '../common/sheetProblemRule.ts'

export const sheetNotAPlug = sheetProblemRule('sheet/not-a-plug', 'the insert names something that is no plug')
