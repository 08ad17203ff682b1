import { problemRule } from '../common/problemRule.ts'

export const arcRadiusTooSmall = problemRule(
  'arc/radius-too-small',
  'an arc whose radius cannot reach its end',
  'error',
  'radius',
)
