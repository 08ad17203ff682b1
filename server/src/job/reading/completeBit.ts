import type { Bit } from '../../stock/bit.ts'
import type { Machine } from '../sheet.ts'
import { defaultChipLoad } from './chipLoads.ts'
import { BIT, PLUNGE_MOST, PLUNGE_SHARE, RAMP_OFF_CENTRE, SHALLOW_PASS } from './defaults.ts'
import type { Family } from './materials.ts'
import type { WrittenBit } from './schemaBits.ts'

/**
 * A bit with all that was left out filled in. Lengths of `written` times `unit` are mm; `families` are the kinds of
 * wood it cuts in this job (none known: hardwood, the careful choice).
 */
export function completeBit(
  number: number,
  written: WrittenBit,
  unit: number,
  families: readonly Family[],
  spindle: Machine['spindle'],
): Bit {
  const length = (value: number | undefined) => (value === undefined ? undefined : value * unit)
  const shape = written.shape ?? BIT.shape
  const diameter = length(written.diameter) ?? BIT.diameter
  const flutes = written.flutes ?? BIT.flutes
  const centreCutting = written.centreCutting ?? shape !== 'bowl'
  const declared = written.chipLoad
  const chipLoad = declared ? ([declared[0] * unit, declared[1] * unit] as const) : defaultChipLoad(diameter, families)
  const maxSpeed = written.maxSpeed ?? BIT.maxSpeed
  const fastest = Math.min(maxSpeed, spindle.manual ? spindle.speed : spindle.max)
  const cuttingLength = length(written.cuttingLength) ?? BIT.cuttingLength
  const hasTip = shape === 'vee' || shape === 'taper'
  const tip = length(written.tipDiameter) ?? Math.min(BIT.tipDiameter, diameter / 2)
  return {
    number,
    name: written.name ?? `${Number(diameter.toFixed(2))} mm ${shape}`,
    shape,
    diameter,
    cornerRadius: shape === 'bowl' ? (length(written.cornerRadius) ?? Math.min(BIT.cornerRadius, diameter / 2)) : 0,
    angle: hasTip ? (written.angle ?? BIT.angle) : 0,
    tipDiameter: hasTip ? tip : 0,
    spiral: written.spiral ?? BIT.spiral,
    flutes,
    cuttingLength,
    // Flutes longer than the default stick out must stick out as well.
    stickout: length(written.stickout) ?? Math.max(BIT.stickout, cuttingLength),
    shankDiameter: length(written.shankDiameter) ?? BIT.shankDiameter,
    colletDiameter: length(written.colletDiameter) ?? BIT.colletDiameter,
    centreCutting,
    maxRampAngle: written.maxRampAngle ?? (centreCutting ? 90 : RAMP_OFF_CENTRE),
    maxPassDepth: length(written.maxPassDepth) ?? defaultPassDepth(shape, diameter, families),
    chipLoad,
    chipLoadDeclared: declared !== undefined,
    maxSpeed,
    maxPlungeFeed:
      length(written.maxPlungeFeed) ?? Math.min(PLUNGE_MOST, PLUNGE_SHARE * chipLoad[0] * flutes * fastest),
  }
}

/** Half the diameter in hardwood, else the diameter; bowl and vee bits at most 3 mm. */
function defaultPassDepth(shape: Bit['shape'], diameter: number, families: readonly Family[]): number {
  const hard = families.length === 0 || families.includes('hardwood')
  const deep = hard ? diameter / 2 : diameter
  return shape === 'bowl' || shape === 'vee' ? Math.min(deep, SHALLOW_PASS) : deep
}
