import { thicknessOf } from '../../job/measured.ts'
import type { CopyOutcome, Figure, JobOutcome } from '../../job/outcome.ts'
import { pieceBlank } from '../../job/runJob.ts'
import { underLimit } from './figureRule.ts'
import { mm } from './wording.ts'

type FigureName = 'floor' | 'inlayLeft' | 'reveal'

/** Differences of heights that differ by less are the same, mm. */
const SAME = 0.005

/**
 * Where one copy alone falls short of a least value: how thick it is and what would make it pass, as a sentence with a
 * space before it; '' where another copy fails as well, or there is no other. That another thickness would do is said
 * only where the other copies show that the figure follows the thickness.
 */
export function oneCopySentence(job: JobOutcome, copy: CopyOutcome, name: FigureName, limit: number): string {
  const own = copy.figures[name]
  const others = job.copies.flatMap(other => (other === copy ? [] : [{ other, figure: other.figures[name] }]))
  if (!own || others.length === 0) return ''
  if (others.some(({ figure }) => !figure || underLimit(figure, limit) === 'nominal')) return ''
  const thick = pieceThickness(job, copy)
  const short = limit - own.nominal
  const cavity = `the cavity must end ${mm(short)} ${name === 'reveal' ? 'deeper' : 'higher'} for it`
  const follows = others
    .map(({ other, figure }) => slope(own, figure, pieceThickness(job, other) - thick))
    .reduce((all, each) => (all === each ? all : 0))
  const blank = follows === 0 ? '' : `, or its blank be ${mm(thick + short * follows)} thick`
  return ` Copy ${copy.copy} alone falls short; it is ${mm(thick)} thick: ${cavity}${blank}.`
}

/** 1 where the figure grows with the thickness, -1 where it shrinks by as much, 0 where neither can be told. */
function slope(own: Figure, other: Figure | undefined, thicker: number): number {
  if (!other || Math.abs(thicker) < SAME) return 0
  const more = other.nominal - own.nominal
  if (Math.abs(more - thicker) < SAME) return 1
  return Math.abs(more + thicker) < SAME ? -1 : 0
}

function pieceThickness({ sheet }: JobOutcome, { copy }: CopyOutcome): number {
  const blank = sheet.blanks.get(pieceBlank(sheet))
  return blank ? thicknessOf(sheet, blank, copy).thickness : Number.NaN
}
