import { sheetProblemRule } from '../common/sheetProblemRule.ts'

export const sheetWrongOrder = sheetProblemRule('sheet/wrong-order', 'set-ups stand in an order that cannot be')
