import type { Cure } from '../../../rules/cure.ts'
import type { Way } from '../scene.ts'
import { centre } from './centre.ts'
import { firstLift, higher, lift, shallower, usualStep } from './heights.ts'
import { cuttingMove, ramp } from './plunges.ts'
import { missingFeed, missingSpeed, plungeFeed, rate, speed, spindleOn } from './rates.ts'
import { levels, mirror, radius } from './shapes.ts'
import { allowance, bracket, end, units, whichBit } from './texts.ts'
import { instead, number, oneWord, remark } from './words.ts'

/** What is done for each cure that is worked out in the program alone; the others read the job or the sheet. */
export const WAYS: Readonly<Record<Exclude<Cure, 'last-level' | 'sheet-number' | 'name'>, Way>> = {
  rate,
  speed,
  'plunge-feed': plungeFeed,
  'missing-feed': missingFeed,
  'missing-speed': missingSpeed,
  'spindle-on': spindleOn,
  'cutting-move': cuttingMove,
  ramp,
  lift,
  higher,
  'first-lift': firstLift,
  shallower,
  'usual-step': usualStep,
  levels,
  mirror,
  'which-bit': whichBit,
  units,
  end,
  number,
  bracket,
  'one-word': oneWord,
  remark,
  instead,
  centre,
  radius,
  allowance,
}
