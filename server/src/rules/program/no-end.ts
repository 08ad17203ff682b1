import { problemRule } from '../common/problemRule.ts'

export const programNoEnd = problemRule('program/no-end', 'a program that does not say where it ends', 'warning', 'end')
