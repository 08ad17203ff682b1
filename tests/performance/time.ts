import { timesOf } from '../../server/src/job/figures/times.ts'
import { MACHINE } from '../../server/src/job/reading/defaults.ts'
import { readProgram } from '../../server/src/machine/readProgram.ts'
import { below, medians, type Row } from './harness.ts'
import { longProgram } from './programs.ts'

const MANY = 1_000_000

/** How long it takes to reckon how long a program takes: short cuts with a corner at each, and the same with arcs. */
export async function rows(): Promise<Row[]> {
  const lines = readProgram(new TextEncoder().encode(longProgram(MANY)))
  const arcs = readProgram(new TextEncoder().encode(roundProgram(MANY)))
  const { straight, round } = await medians({
    straight: () => timesOf(lines, MACHINE),
    round: () => timesOf(arcs, MACHINE),
  })
  const what = 'accelerations, corners and look-ahead'
  return [
    below(`${lines.motions.count} motions: ${what}`, 'ms', straight, 1000),
    below(`${arcs.motions.count} arcs: ${what}`, 'ms', round, 1000),
  ]
}

/** Quarter circles, up on the outside of the one and on to the next, in rows of a thousand. */
function roundProgram(motions: number): string {
  const out = ['G21 G90 G17', 'G0 X0 Y0 Z0', 'F1500']
  for (let i = 0; i < motions; i++) {
    const along = i % 1000
    if (along === 0) out.push('G0 X0 Y0')
    const x = (along + 1) / 2
    const y = along % 2 === 0 ? 0.5 : 0
    out.push(along % 2 === 0 ? `G3 X${x} Y${y} J0.5` : `G2 X${x} Y${y} J-0.5`)
  }
  out.push('M2')
  return `${out.join('\n')}\n`
}
