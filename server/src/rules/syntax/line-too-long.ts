import { problemRule } from '../common/problemRule.ts'

export const syntaxLineTooLong = problemRule('syntax/line-too-long', 'a line longer than the machine takes', 'error')
