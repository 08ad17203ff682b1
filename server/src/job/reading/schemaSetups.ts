import { z } from 'zod'
import { anyNumber, fraction, notNegative, point, positive } from './schemaParts.ts'

const zeroSchema = z
  .strictObject({
    x: z
      .union([z.number().min(-1e6).max(1e6), z.literal('centre')])
      .describe('Where X0 lies, from the left edge of the blank as it lies; or `"centre"`. Default: 0.')
      .optional(),
    y: z
      .union([z.number().min(-1e6).max(1e6), z.literal('centre')])
      .describe('Where Y0 lies, from the near edge of the blank as it lies; or `"centre"`. Default: 0.')
      .optional(),
    z: z
      .enum(['face', 'bed', 'kept'])
      .describe(
        'Where Z is touched off. `face`: the highest wood of the blank itself on the side that lies up (a plug or resin does not count). `bed`: the table. `kept`: not touched off again since the set-up before. Default: `face`.',
      )
      .optional(),
    touch: point()
      .describe('Touch off on whatever is highest at this spot `[x, y]` of the blank as it lies, instead.')
      .optional(),
    offset: anyNumber('Z0 lies this far above what was touched, e.g. the thickness of a gauge. Default: 0.').optional(),
  })
  .describe('Where X0 Y0 Z0 of the program is on the blank.')

const resinSchema = z
  .strictObject({
    density: positive('Density of the mixed resin, g/cm³. Default: 1.1.').optional(),
    ratio: z
      .tuple([z.number().gt(0).max(1000), z.number().gt(0).max(1000)])
      .describe('Parts of resin and hardener, `[resin, hardener]`, by the maker. Default: [2, 1].')
      .optional(),
    by: z
      .enum(['weight', 'volume'])
      .describe('Whether the ratio counts weights or volumes; the two differ. Default: `weight`.')
      .optional(),
    overfill: fraction('Extra to pour, as a fraction of the pocket: 0.1 is 10 % more. Default: 0.1.').optional(),
    shrinkage: z.number().min(0).max(0.5).describe('Volume lost while curing, as a fraction. Default: 0.').optional(),
    maxPourDepth: positive('Deepest single pour by the maker; deeper ones overheat. Default: 10 mm.').optional(),
  })
  .describe('Resin to be poured into the pocket.')

const insertSchema = z
  .strictObject({
    plug: z.string().describe('Name of the set-up that carved the plug.').optional(),
    resin: resinSchema.optional(),
    into: z.string().describe('Name of the set-up that made the pocket.'),
    glueLine: notNegative("Thickness of the film of glue under the plug's face. Default: 0.").optional(),
    pieces: z
      .array(point())
      .max(1000)
      .describe('Points `[x, y]` on the plug blank that say which standing parts are plug, where that is in doubt.')
      .optional(),
  })
  .describe('A plug or resin that goes into a pocket: give `plug` or `resin`, and `into`.')

const measures = {
  thickness: positive(
    'Thickness left over all, by caliper: after a levelling, or of a blank that is not levelled yet.',
  ).optional(),
  depth: positive('From the face that still stands to the deepest that this set-up cut.').optional(),
  height: positive('Of the plug as it was sawn off, from its carved face; takes the place of `sawAt`.').optional(),
  gap: notNegative('Tightest gap per side of the dry fit, by feeler gauge.').optional(),
}

const measuredSchema = z
  .strictObject({
    ...measures,
    copies: z
      .record(z.string(), z.strictObject(measures).describe('What was measured on this copy.'))
      .describe('What was measured on single copies.')
      .optional(),
  })
  .describe(
    'What was measured once the set-up was done. It takes the place of what was meant, from there on; the rest is checked again with what is known better now.',
  )

/** One set-up of any kind: what it does is told by `program`, `insert`, `saw` or `hand`. */
export const setupSchema = z
  .strictObject({
    name: z.string().min(1).describe('What you call this set-up; other set-ups and messages refer to it.'),
    blank: z.string().describe('Name of the blank that is worked on.'),
    copies: z.array(z.string()).max(1000).describe('Only these copies of the blank. Default: all.').optional(),
    measured: measuredSchema.optional(),
    program: z.string().min(1).describe('The G-code file, relative to this sheet.').optional(),
    face: z.enum(['top', 'underside']).describe('Which face lies up on the machine. Default: `top`.').optional(),
    turn: z
      .enum(['sideways', 'endways'])
      .describe(
        'How the blank was turned over to lie underside up. `sideways`: left and right change places. `endways`: near and far change places. Default: `sideways`.',
      )
      .optional(),
    spin: z
      .literal([0, 90, 180, 270])
      .describe('Then turned this far counter-clockwise as you look down on it, degrees. Default: 0.')
      .optional(),
    zero: zeroSchema.optional(),
    makes: z
      .enum(['plug', 'pocket', 'level', 'cavity', 'outline', 'other'])
      .describe('What the program cuts; decides which checks apply. Default: `other`.')
      .optional(),
    bit: z
      .number()
      .int()
      .min(0)
      .max(99999)
      .or(z.string().regex(/^\d{1,5}$/))
      .describe('The bit in the spindle when the program begins. Default: that of the set-up before, or the only one.')
      .optional(),
    sawAt: positive("From the plug's carved face to the saw cut that frees it.").optional(),
    through: notNegative(
      'How far a bit may go below the downward face. Default: 0.5 mm for an outline, else 0.',
    ).optional(),
    held: z
      .enum(['tape', 'screws', 'vacuum', 'tabs'])
      .describe('What holds a piece that is cut loose. Leave it out if nothing does.')
      .optional(),
    locate: z
      .strictObject({
        by: z.enum(['corner', 'centre', 'pins']).describe('How the blank finds its place on the machine.'),
        pins: z
          .array(point())
          .max(100)
          .describe('Where the pins are, `[x, y]` on the blank; turned over they must land on one another.')
          .optional(),
      })
      .describe('How the blank is put back in its place.')
      .optional(),
    insert: insertSchema.optional(),
    saw: z
      .strictObject({
        face: z.enum(['top', 'underside']).describe('The face that is sawn off.'),
        leaves: positive('What the saw leaves: from the cut to the highest wood of the opposite face.'),
      })
      .describe('A saw cut that takes off one face.')
      .optional(),
    hand: z
      .strictObject({
        roundOver: notNegative('Radius that the edges are rounded to by hand. Default: 3 mm.').optional(),
        bearing: positive('Diameter of the bearing that runs on the wall. Default: 8 mm.').optional(),
      })
      .describe('Work with a hand-held router.')
      .optional(),
  })
  .describe(
    'One step of the work: a `program`, an `insert`, a `saw` cut or `hand` work, in the order in which they are done.',
  )

/** A set-up as it is written. */
export type WrittenSetup = z.infer<typeof setupSchema>
