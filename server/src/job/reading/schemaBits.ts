import { z } from 'zod'
import { notNegative, positive, span } from './schemaParts.ts'

/** One bit as a person writes it down. */
export const bitSchema = z
  .strictObject({
    name: z
      .string()
      .describe('What you call the bit, for messages and the set-up sheet. Default: its diameter and shape.')
      .optional(),
    shape: z
      .enum(['flat', 'ball', 'bowl', 'vee', 'taper'])
      .describe(
        'Shape of the cutting end. `flat`: square end. `ball`: round end. `bowl`: flat end with a corner radius. `vee`: cone. `taper`: slim cone with a ball tip. Default: `flat`.',
      )
      .optional(),
    diameter: positive('Cutting diameter at its widest, in the units of this sheet. Default: 6 mm.').optional(),
    cornerRadius: positive(
      'Bowl bits only: radius between the flat end and the side, at most half the diameter. Default: 2 mm.',
    ).optional(),
    angle: z
      .number()
      .gt(0)
      .lt(180)
      .describe('Vee and taper only: the included angle (side to side) in degrees. Default: 60.')
      .optional(),
    tipDiameter: notNegative(
      'Vee: diameter of the flat at the tip, 0 = sharp. Taper: twice the radius of the ball tip. Default: 0.5 mm.',
    ).optional(),
    spiral: z
      .enum(['up', 'down', 'straight', 'compression'])
      .describe(
        'Which way the flutes carry the chips. `down` leaves a clean top edge and packs chips in deep slots. Default: `down`.',
      )
      .optional(),
    flutes: z.number().int().min(1).max(24).describe('Number of cutting edges. Default: 2.').optional(),
    cuttingLength: positive(
      'Length of the flutes from the tip. Above it the shank only rubs. Default: 22 mm.',
    ).optional(),
    stickout: positive('From the tip to the collet nut, as you chuck it. Default: 32 mm.').optional(),
    shankDiameter: positive('Diameter of the shank above the flutes. Default: 6 mm.').optional(),
    colletDiameter: positive(
      'Diameter of the collet nut, the widest thing that comes near the wood. Default: 20 mm.',
    ).optional(),
    centreCutting: z
      .boolean()
      .describe('May the bit go straight down into wood? Default: yes for flat, ball, vee and taper, no for bowl.')
      .optional(),
    maxRampAngle: z
      .number()
      .gt(0)
      .max(90)
      .describe(
        'Steepest descent while moving sideways, in degrees. Default: 90 for a bit that cuts at its centre, else 3.',
      )
      .optional(),
    maxPassDepth: positive(
      'Deepest cut in one pass. Default: half the diameter in hardwood, else the diameter; bowl and vee bits at most 3 mm.',
    ).optional(),
    chipLoad: span(
      'Chip thickness per tooth, `[least, most]`. Default: from a quarter of the lower to the whole of the upper figure that bit makers publish for this diameter and wood. Only a range that you declare is judged on its low side.',
    ).optional(),
    maxSpeed: positive('Fastest speed the bit is rated for, rev/min. Default: 24000.').optional(),
    maxPlungeFeed: positive(
      'Fastest the bit may go down, length per minute. Default: 30 % of the feed at the least chip load, at most 500 mm/min.',
    ).optional(),
  })
  .describe('A bit, under the number that the program calls it by (`T1` is "1").')

/** A bit as it is written, every field optional. */
export type WrittenBit = z.infer<typeof bitSchema>
