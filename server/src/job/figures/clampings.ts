import type { Chain, Step } from '../chain.ts'
import { sameLie } from '../reading/crossCheck.ts'

/** How often the blank was clamped anew between two steps; from nowhere: whether it was not in its first clamping. */
export function reclamped({ steps }: Chain, from: Step | undefined, to: Step): number {
  const [first, last] = [from ? steps.indexOf(from) : 0, steps.indexOf(to)].sort((a, b) => a - b)
  let clampings = 0
  let held = steps[first]
  for (const step of steps.slice(first + 1, last + 1)) {
    const same = step.run && held.run && sameLie(step.run.setup, held.run.setup)
    if (!same && step.run) clampings++
    if (step.run || step.setup.kind !== 'program') held = step
  }
  return from ? clampings : Math.min(1, clampings)
}
