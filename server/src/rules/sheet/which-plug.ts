import { sheetProblemRule } from '../common/sheetProblemRule.ts'

export const sheetWhichPlug = sheetProblemRule('sheet/which-plug', 'it cannot be told which parts are plug')
