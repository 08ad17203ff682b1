import { byMachine, lowestOn } from '../common/path.ts'
import { levelCause, reportByCause } from '../common/runRule.ts'
import { height, mm } from '../common/wording.ts'
import { levelWord, programHeight } from '../common/words.ts'
import type { RunRule } from '../rule.ts'
import { MAP_ROUNDING } from '../tolerances.ts'

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
    reportByCause(
      run,
      report,
      i => {
        if (byMachine(motions, i)) return undefined
        const z = lowestOn(motions, i)
        if (!(z < lowest - MAP_ROUNDING)) return undefined
        // A motion that rises out of the depth did not bring the bit there.
        if (i > 0 && motions.z[i] > motions.z[i - 1] && z === motions.z[i - 1]) return undefined
        return { cause: levelCause(program, i), badness: lowest - z }
      },
      ({ worst }) => {
        const i = worst.motion
        const z = lowest - worst.badness
        const bed = programHeight(program, i, bedLevel - shift[2])
        const allowed = setup.through > 0 ? ` ${mm(setup.through)} below it is accepted here.` : ''
        return {
          at: levelWord(program, i),
          message: `The bit goes down to ${height(programHeight(program, i, z))}; the blank ends at ${height(bed)}${copyWords(run.copy, run.thickness)}. It cuts ${mm(bedLevel - shift[2] - z)} deep into what the blank lies on.${allowed}`,
          found: programHeight(program, i, z),
          limit: programHeight(program, i, lowest),
          related: sheet.blanks.has(setup.blank)
            ? [{ place: { field: ['blanks', setup.blank] }, message: `${setup.blank}: the blank and its thickness` }]
            : [],
        }
      },
    )
  },
}

function copyWords(copy: string, thickness: number): string {
  return copy === '' ? '' : ` (copy ${copy} is ${mm(thickness)} thick)`
}
