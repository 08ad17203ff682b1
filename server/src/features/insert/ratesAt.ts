import { number } from '../../rules/common/wording.ts'
import { type PlaceQuestion, toolsAt } from './siteAt.ts'

const INCH = 25.4

/** A feed or a speed for a place, as it would be written there. */
export interface Rate {
  readonly value: number
  readonly detail: string
}

/** What the bit that is in the spindle before a line may be fed or turned at, in the program's units; nothing where that is not known. */
export function ratesAt(question: PlaceQuestion, of: 'feed' | 'speed'): Rate[] {
  const found = toolsAt(question)
  if (!found) return []
  const { bit, rates, speed, inches, sheet } = found
  if (of === 'speed') {
    const { spindle } = sheet.machine
    if (spindle.manual) return []
    const most = Math.min(bit.maxSpeed, spindle.max)
    const fastest = { value: most, detail: `the fastest that spindle and ${bit.name} may turn` }
    const wish = { value: speed, detail: `for ${bit.name}: ${spindle.min} to ${number(most, 0)} rev/min` }
    return wish.value === most ? [wish] : [wish, fastest]
  }
  const unit = inches ? INCH : 1
  const chip = (feed: number) => number(feed / (speed * bit.flutes), 3)
  const [least, most] = bit.chipLoad
  return [
    {
      value: rates.cut / unit,
      detail: `level cuts: ${chip(rates.cut)} mm a tooth at ${number(speed, 0)} rev/min; ${bit.name} takes ${number(least, 3)} to ${number(most, 3)}`,
    },
    { value: rates.ramp / unit, detail: `ramps and helices, to ${number(rates.angle, 1)}°` },
    { value: rates.plunge / unit, detail: `straight down: ${bit.name} takes ${number(bit.maxPlungeFeed, 0)} mm/min` },
  ]
}
