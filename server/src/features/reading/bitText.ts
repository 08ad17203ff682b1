import { mm, number } from '../../rules/common/wording.ts'
import type { Bit } from '../../stock/bit.ts'
import { escaped } from '../sheet/markdown.ts'

/** What a sheet says of a bit, and what it may be asked to do. */
export function bitText(bit: Bit): string {
  const [least, most] = bit.chipLoad
  const shape = { flat: 'flat', ball: 'ball-end', bowl: 'bowl bit', vee: 'vee', taper: 'tapered' }[bit.shape]
  const detail =
    bit.shape === 'bowl'
      ? `, corner radius ${mm(bit.cornerRadius)}`
      : bit.angle > 0
        ? `, ${number(bit.angle, 1)}° with a tip of ${mm(bit.tipDiameter)}`
        : ''
  const down = bit.centreCutting
    ? `straight down at ${number(bit.maxPlungeFeed, 0)} mm/min at most`
    : `never straight down: ramps to ${number(bit.maxRampAngle, 1)}°`
  return [
    `**${escaped(bit.name)}**: ${shape}, ${mm(bit.diameter)} across${detail}, ${bit.flutes} flutes, ${mm(bit.cuttingLength)} long`,
    `Passes to ${mm(bit.maxPassDepth)} deep, chips ${number(least, 3)} to ${number(most, 3)} mm a tooth, ${down}`,
  ].join('\n\n')
}
