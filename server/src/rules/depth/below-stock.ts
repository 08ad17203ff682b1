import { fold, type Hit } from '../common/fold.ts'
import { byMachine, lowestOn } from '../common/path.ts'
import { height, mm, reachSentence } from '../common/wording.ts'
import { levelSetter, levelWord, programHeight } from '../common/words.ts'
import type { RunRule } from '../rule.ts'
import { MAP_ROUNDING, SAME_LEVEL } from '../tolerances.ts'

export const depthBelowStock: RunRule = {
  id: 'depth/below-stock',
  title: 'deeper than the blank, into what it lies on',
  severity: 'error',
  fix: 'shallower',
  reads: 'run',
  check(run, sheet, report) {
    const { program, setup, bedLevel, shift } = run
    const { motions } = program
    const lowest = bedLevel - setup.through - shift[2]
    const hits: Hit[] = []
    for (let i = 0; i < motions.count; i++) {
      if (byMachine(motions, i)) continue
      const z = lowestOn(motions, i)
      if (!(z < lowest - MAP_ROUNDING)) continue
      // A motion that rises out of the depth did not bring the bit there.
      if (i > 0 && motions.z[i] > motions.z[i - 1] && z === motions.z[i - 1]) continue
      const level = motions.z[levelSetter(program, i)]
      hits.push({ motion: i, cause: String(Math.round(level / SAME_LEVEL)), badness: lowest - z })
    }
    for (const { worst, reach } of fold(program, hits)) {
      const i = worst.motion
      const z = lowest - worst.badness
      const bed = programHeight(program, i, bedLevel - shift[2])
      const allowed = setup.through > 0 ? ` ${mm(setup.through)} below it is accepted here.` : ''
      report({
        at: levelWord(program, i),
        message: `The bit goes down to ${height(programHeight(program, i, z))}; the blank ends at ${height(bed)}${copyWords(run.copy, run.thickness)}. It cuts ${mm(bedLevel - shift[2] - z)} deep into what the blank lies on.${allowed}${reachSentence(reach)}`,
        found: programHeight(program, i, z),
        limit: programHeight(program, i, lowest),
        related: sheet.blanks.has(setup.blank)
          ? [{ place: { field: ['blanks', setup.blank] }, message: `${setup.blank}: the blank and its thickness` }]
          : [],
        reach,
      })
    }
  },
}

function copyWords(copy: string, thickness: number): string {
  return copy === '' ? '' : ` (copy ${copy} is ${mm(thickness)} thick)`
}
