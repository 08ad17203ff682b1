import type { Run } from '../../job/outcome.ts'
import type { KeepOut } from '../../job/sheet.ts'
import type { Bit } from '../../stock/bit.ts'
import { profileOf, radiusAt } from '../../stock/profile.ts'
import { bitOf } from '../common/inWood.ts'
import { byMachine, endOf, isKnown, samples, startOf } from '../common/path.ts'
import { height, mm } from '../common/wording.ts'
import { motionWord, programHeight } from '../common/words.ts'
import type { RunRule } from '../rule.ts'
import { CONTACT } from '../tolerances.ts'

export const motionKeepOut: RunRule = {
  id: 'motion/keep-out',
  title: 'the bit, its shank or the collet runs into a clamp',
  severity: 'error',
  fix: 'lift',
  reads: 'run',
  check(run, sheet, report) {
    sheet.keepOut.forEach((clamp, index) => {
      if (clamp.setup !== run.setup.name) return
      const hit = firstEntry(run, clamp)
      if (!hit) return
      const { program, faceLevel, shift } = run
      const top = programHeight(program, hit.motion, faceLevel + clamp.height - shift[2])
      report({
        at: motionWord(program, hit.motion),
        message: `At X${hit.x.toFixed(1)} Y${hit.y.toFixed(1)} ${height(hit.z)} the ${hit.part} runs into a clamp, ${mm(hit.into)} inside the space that is kept free for it (up to ${height(top)}): the bit breaks and flies, or the clamp lets go. Go round it, or over it.`,
        found: hit.into,
        limit: 0,
        related: [{ place: { field: ['keepOut', index] }, message: 'the space kept free for the clamp' }],
      })
    })
  },
}

interface Entry {
  readonly motion: number
  readonly x: number
  readonly y: number
  readonly z: number
  readonly part: string
  readonly into: number
}

/** The first place where anything that turns enters the box; the box reaches down to the table. */
function firstEntry(run: Run, clamp: KeepOut): Entry | undefined {
  const { motions } = run.program
  const [dx, dy, dz] = run.shift
  const top = run.faceLevel + clamp.height
  for (let i = 0; i < motions.count; i++) {
    const bit = bitOf(run, i)
    if (!bit || byMachine(motions, i)) continue
    const from = startOf(motions, i)
    if (Math.min(from[2], motions.z[i]) + dz > top && motions.arc[i] < 0) continue
    // Of a way that nobody knows the end is still known.
    const way = isKnown(motions, i) ? [from, ...samples(motions, i, 0.5)] : [endOf(motions, i)]
    for (const [x, y, z] of way) {
      const away = distanceToBox(x + dx, y + dy, clamp.box)
      const widest = widestBelow(bit, top - (z + dz))
      const into = widest.radius - away // NaN where the place is unknown
      if (widest.radius > 0 && into > CONTACT)
        return { motion: i, x, y, z: programHeight(run.program, i, z), part: widest.part, into }
    }
  }
  return undefined
}

function distanceToBox(x: number, y: number, [[x0, y0], [x1, y1]]: KeepOut['box']): number {
  return Math.hypot(Math.max(0, x0 - x, x - x1), Math.max(0, y0 - y, y - y1))
}

/** What of the bit, shank and collet is widest within a height over the tip, and its radius, mm. */
function widestBelow(bit: Bit, above: number): { radius: number; part: string } {
  if (!(above > 0)) return { radius: 0, part: 'bit' }
  const profile = profileOf(bit)
  let widest = { radius: profile ? radiusAt(profile, above) : bit.diameter / 2, part: 'bit' }
  if (above > bit.cuttingLength && bit.shankDiameter / 2 > widest.radius)
    widest = { radius: bit.shankDiameter / 2, part: 'shank' }
  if (above > bit.stickout && bit.colletDiameter / 2 > widest.radius)
    widest = { radius: bit.colletDiameter / 2, part: 'collet' }
  return widest
}
