import { problemRule } from '../common/problemRule.ts'

export const programUnitsDiffer = problemRule(
  'program/units-differ',
  'millimetres and inches in one program',
  'warning',
)
