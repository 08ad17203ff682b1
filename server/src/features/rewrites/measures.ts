import { retold } from './retell.ts'
import { attempt, isWhole, Refusal, type Rewritten, type Source } from './source.ts'
import { verified } from './verify.ts'
import { walk } from './walk.ts'

/** Writes a program in the other unit: the same path, numbers as fine as they were. */
export function inUnits(source: Source, units: 'mm' | 'inch'): Rewritten {
  return attempt(() => {
    if (!isWhole(source))
      throw new Refusal('One program in two units is easily misread: only the whole program is rewritten.')
    mustHold(source.text)
    return { edits: verified(source, retold(source, { units })) }
  })
}

/** Parameters are numbers in no unit: what is a length among them nobody can tell. */
function mustHold(text: string): void {
  const line = text.split(/\r\n|\n|\r/).findIndex(each => /[#[]/.test(each.replace(/\([^)]*(?:\)|$)|;.*/g, '')))
  if (line >= 0) {
    throw new Refusal(
      `Line ${line + 1} works a number out, and which of its parts are lengths cannot be told: write the numbers themselves first.`,
    )
  }
}

/** Writes positions as distances from where the bit is, or the other way round. */
export function inDistances(source: Source, way: 'absolute' | 'incremental'): Rewritten {
  return attempt(() => {
    const absolute = way === 'absolute'
    const first = absolute ? source.first : firstKnown(source)
    const from = { ...source, first }
    const edits = verified(from, retold(from, { absolute }))
    const notes =
      first > source.first && edits.length > 0
        ? [`Up to line ${first} places stay positions: where the bit stands before them is not known.`]
        : []
    return { edits, notes }
  })
}

/** The first line from which on the place of the bit is known before every move. */
function firstKnown(source: Source): number {
  const { first, last } = source
  let known = first
  for (const { line, kind, from } of walk(source)) {
    if (line > last) break
    if (line >= first && kind !== 'none' && from.some(Number.isNaN)) known = line + 1
  }
  if (known > last)
    throw new Refusal('Where the bit stands before these moves is not known: they cannot be told as distances.')
  return known
}
