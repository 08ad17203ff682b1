import { sheetProblemRule } from '../common/sheetProblemRule.ts'

export const sheetTooLarge = sheetProblemRule('sheet/too-large', 'the blank, or a program, is too large to be modelled')
