import type { Run } from '../../job/outcome.ts'
import type { Bit } from '../../stock/bit.ts'
import { bitOf, deepOnlyOverInsert, feedCuts, passDepth } from '../common/inWood.ts'
import { lengthAcross } from '../common/path.ts'
import { levelCause, reportByCause } from '../common/runRule.ts'
import { takesOnlySkin } from '../common/skin.ts'
import { mm } from '../common/wording.ts'
import { levelSetter, levelWord, motionWord } from '../common/words.ts'
import type { RunRule } from '../rule.ts'
import { CONTACT } from '../tolerances.ts'

export const depthPassTooDeep: RunRule = {
  id: 'depth/pass-too-deep',
  title: 'a pass deeper than the bit should take at once',
  severity: 'warning',
  fix: 'levels',
  reads: 'run',
  check(run, _sheet, report) {
    const { program } = run
    const lengths = new Map<number, { deep: number; fine: number }>()
    reportByCause(
      run,
      report,
      i => {
        const bit = bitOf(run, i)
        if (!bit || !feedCuts(run, i)) return undefined
        const depth = passDepth(run, i)
        const setter = levelSetter(program, i)
        const isDeep =
          depth > bit.maxPassDepth + CONTACT && !isBrushed(run, i, bit, depth) && !deepOnlyOverInsert(run, i, bit)
        const length = lengths.get(setter) ?? { deep: 0, fine: 0 }
        lengths.set(setter, length)
        length[isDeep ? 'deep' : 'fine'] += lengthAcross(program.motions, i)
        return isDeep ? { cause: levelCause(program, i), badness: depth } : undefined
      },
      ({ first, worst }) => {
        const bit = bitOf(run, worst.motion)!
        const strays = strayed(run, first.motion, lengths) && strayed(run, worst.motion, lengths)
        const most = `${bit.name} should take ${mm(bit.maxPassDepth)} at most`
        return {
          at: strays ? motionWord(program, first.motion) : levelWord(program, worst.motion),
          message: strays
            ? `This move takes ${mm(worst.badness)} at once, where most of its level takes less; ${most}. The bit bends, chatters or breaks: does the move go where it should, or were the levels above it not cut here?`
            : `This pass takes ${mm(worst.badness)} at once; ${most}. The bit bends, chatters or breaks, and the cut wanders: put a level between.`,
          found: worst.badness,
          limit: bit.maxPassDepth,
        }
      },
    )
  },
}

/** Widths are counted in cells: one may be next to nothing, and up to this many are one. */
const ONE_CELL = 1.25

/** A skin of wall up to this thick bends no bit, mm: common practice, no source. */
const SKIN = 0.1

/**
 * A wall that is run along once more, a little farther in than before: however high it stands, that bends no bit. The
 * width on average, over a bit's width of way at least, tells most cuts from that: where such a pass begins or turns, a
 * crescent as thin as a hair lies before half of the bit. What is about a cell wide is measured by the paths.
 */
function isBrushed(run: Run, motion: number, bit: Bit, depth: number): boolean {
  const { engagement, before, program } = run
  const { volume, firstContact } = engagement
  const length = lengthAcross(program.motions, motion) * (1 - (firstContact[motion] || 0))
  if (length === 0) return false
  if (volume[motion] >= ONE_CELL * before.grid.cell * depth * Math.max(length, bit.diameter)) return false
  return takesOnlySkin(run, motion, bit.maxPassDepth + CONTACT, SKIN)
}

/**
 * Where most of what is cut at a level is no deeper than the bit takes, it is not the level that is wrong but the way of
 * the move, which goes where nothing was cut before.
 */
function strayed(run: Run, motion: number, lengths: ReadonlyMap<number, { deep: number; fine: number }>): boolean {
  const length = lengths.get(levelSetter(run.program, motion))
  return length !== undefined && length.fine > length.deep
}
