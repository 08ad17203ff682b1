import { ALL_RULES } from '../../rules/all.ts'
import { type Finding, GRAVITY } from '../../rules/rule.ts'

/** A finding as an editor shows it. */
export interface Shown extends Finding {
  /** Where it is the other end of findings that stand elsewhere: those. */
  readonly origins?: readonly Finding[]
}

/** Rules that speak of the job as a whole: what they find is made by several files. */
const ofTheJob: ReadonlySet<string> = new Set(ALL_RULES.filter(rule => rule.reads === 'job').map(rule => rule.id))

/**
 * The findings of one check as an editor shows them: one that rests on another file shows there as well, once for each
 * code and place, with the way back. The report of a terminal, which is read as a whole, has no need of that.
 */
export function atBothEnds(findings: readonly Finding[]): Shown[] {
  const ends = new Map<string, Shown & { readonly origins: readonly Finding[] }>()
  for (const finding of findings) {
    if (!ofTheJob.has(finding.code)) continue
    for (const { file, range } of finding.related) {
      if (file === finding.file) continue
      const key = `${file} ${finding.code} ${range.start.line} ${range.start.character}`
      const known = ends.get(key)
      if (known?.origins.includes(finding)) continue
      // The gravest is what shows; all of them are led back to.
      const shown = known && GRAVITY[known.severity] >= GRAVITY[finding.severity] ? known : { ...finding, file, range }
      const origins = [...(known?.origins ?? []), finding]
      ends.set(key, { ...shown, related: waysBack(origins), origins })
    }
  }
  return [...findings, ...ends.values()]
}

/** Each place once, whatever is found there. */
function waysBack(origins: readonly Finding[]): Finding['related'] {
  return [...new Map(origins.map(wayBack).map(way => [JSON.stringify(way), way])).values()]
}

function wayBack({ file, range, setup }: Finding): Finding['related'][number] {
  return { file, range, message: setup === undefined ? 'found here' : `found here, in ${setup}` }
}
