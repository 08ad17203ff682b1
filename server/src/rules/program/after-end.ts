import { problemRule } from '../common/problemRule.ts'

export const programAfterEnd = problemRule('program/after-end', 'words after the end of the program', 'warning')
