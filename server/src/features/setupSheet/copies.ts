import type { CopyOutcome, JobOutcome, SetupOutcome } from '../../job/outcome.ts'

/** A set-up as it was done on one copy. */
export interface OnCopy {
  readonly copy: CopyOutcome
  readonly done: SetupOutcome
}

/** The copies that a set-up was worked out on. */
export function onCopies(outcome: JobOutcome, index: number): OnCopy[] {
  return outcome.copies.flatMap(copy => {
    const done = copy.setups.find(({ setup }) => setup.index === index)
    return done ? [{ copy, done }] : []
  })
}

/** What several copies say, told once where it reads alike: "A, B" or, where all do or there is one, "". */
export function toldOnce<T>(
  copies: readonly CopyOutcome[],
  tell: (copy: CopyOutcome) => T | undefined,
): { readonly copies: string; readonly told: T }[] {
  const groups = new Map<string, { names: string[]; told: T }>()
  for (const copy of copies) {
    const told = tell(copy)
    if (told === undefined) continue
    const key = JSON.stringify(told)
    const known = groups.get(key)
    if (known) known.names.push(copy.copy)
    else groups.set(key, { names: [copy.copy], told })
  }
  return [...groups.values()].map(({ names, told }) => ({
    copies: names.length === copies.length ? '' : names.join(', '),
    told,
  }))
}
