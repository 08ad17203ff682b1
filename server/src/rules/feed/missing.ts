import { problemRule } from '../common/problemRule.ts'

export const feedMissing = problemRule('feed/missing', 'a cutting move with no feed in force', 'error', 'missing-feed')
