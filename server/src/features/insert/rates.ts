import type { Sheet } from '../../job/sheet.ts'
import type { Bit } from '../../stock/bit.ts'
import type { Tools } from './tools.ts'

const INCH = 25.4

/** Speed of a spindle where nothing is said, rev/min: what desktop routers run at. Common practice, no source. */
const USUAL_SPEED = 16000
/** Where in a bit's range of chip loads the feed is put: towards the careful end. Common practice, no source. */
const IN_RANGE = 0.4
/** What is asked at most of pass, plunge and power, as a share of what bit and spindle are good for. */
const SPARE = 0.9
/** Ramps are no steeper than this, degrees, whatever the bit takes: 2 to 5 are common practice, no source. */
const RAMP = 3
/** Work to turn hardwood into chips, J/mm³: the estimate of the rule `feed/power`. */
const WORK = 0.06

/** rev/min: what is in force where the bit and the spindle are good for it. */
export function speedFor(bit: Bit, { machine: { spindle } }: Sheet, inForce: number | undefined): number {
  if (spindle.manual) return spindle.speed
  const most = Math.min(bit.maxSpeed, spindle.max)
  if (inForce !== undefined && inForce >= spindle.min && inForce <= most) return inForce
  return Math.round(Math.max(spindle.min, Math.min(USUAL_SPEED, most)) / 100) * 100
}

export type Rates = Pick<Tools, 'cut' | 'ramp' | 'plunge' | 'angle' | 'pass'>

/**
 * Feeds and depth of pass for a bit, mm and mm/min: the feed in force where it gives a chip that the bit takes, else one
 * within its range; ramps and descents within its plunge; a pass that bit and spindle can take in a slot.
 * @param inForce mm/min
 * @param inches feeds are whole numbers of inches
 */
export function ratesFor(bit: Bit, sheet: Sheet, speed: number, inForce: number | undefined, inches: boolean): Rates {
  const { machine } = sheet
  const perTooth = speed * bit.flutes
  const [least, most] = bit.chipLoad.map(load => load * perTooth)
  const machineMost = Math.min(machine.maxFeed[0], machine.maxFeed[1]) * SPARE
  const highest = Math.min(most * 0.98, machineMost)
  const wish = Math.min(least + (most - least) * IN_RANGE, highest)
  const fits = inForce !== undefined && inForce >= least && inForce <= highest
  const cut = fits ? inForce : rounded(wish, inches)
  const angle = Math.min(RAMP, bit.maxRampAngle * SPARE)
  const down = Math.min(bit.maxPlungeFeed, machine.maxFeed[2]) * SPARE
  const onRamp = Math.min(cut, down / Math.sin((angle * Math.PI) / 180))
  const bySpindle = (SPARE * machine.spindle.power) / ((cut / 60) * bit.diameter * WORK)
  return {
    cut,
    ramp: rounded(onRamp * 0.7, inches),
    plunge: rounded(down, inches),
    angle,
    pass: Math.min(bit.maxPassDepth * SPARE, bySpindle),
  }
}

/** A feed that a person would write, never above what was reckoned. */
function rounded(feed: number, inches: boolean): number {
  if (inches) return Math.max(0.5, Math.floor((feed / INCH) * 2 + 1e-6) / 2) * INCH
  const step = feed > 500 ? 50 : 10
  return Math.max(10, Math.floor(feed / step + 1e-6) * step)
}
