import { problemRule } from '../common/problemRule.ts'

export const arcNoCentre = problemRule('arc/no-centre', 'an arc without centre or radius', 'error', 'centre')
