import { problemRule } from '../common/problemRule.ts'

export const syntaxUnknownCode = problemRule('syntax/unknown-code', 'a G or M number that means nothing', 'error')
