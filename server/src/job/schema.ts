import { z } from 'zod'
import { bitSchema } from './reading/schemaBits.ts'
import { anyNumber, notNegative, perAxis, point, positive, span } from './reading/schemaParts.ts'
import { setupSchema } from './reading/schemaSetups.ts'

const limitsSchema = z
  .strictObject({
    floor: anyNumber('Thinnest floor left under a cavity. Default: 4 mm.').optional(),
    wall: anyNumber('Thinnest wall left beside a cavity. Default: 5 mm.').optional(),
    inlayLeft: anyNumber('Thinnest inlay left after the cavity is cut. Default: 2 mm.').optional(),
    reveal: anyNumber(
      'Least distance by which the cavity must pass the buried face of the inlay, so that no glue line stays. Default: 0.3 mm.',
    ).optional(),
    clearance: span(
      'Gap per side between plug and pocket wall, `[tightest, loosest]`. Default: [0.05, 0.15] mm.',
    ).optional(),
    gapBeneath: anyNumber('Most room under the plug where it stays covered. Default: 0.5 mm.').optional(),
  })
  .describe('What you accept, judged on nominal values.')

const tolerancesSchema = z
  .strictObject({
    thickness: notNegative('How well the thickness of the blank is known, +/-. Default: 0.2 mm.').optional(),
    zero: notNegative('How well Z is touched off, +/-. Default: 0.1 mm.').optional(),
    flatness: notNegative('How flat the faces are, +/-. Default: 0.1 mm.').optional(),
    bed: notNegative('How flat and parallel the table is, +/-. Default: 0.1 mm.').optional(),
    register: notNegative(
      'How well the blank finds its place again after each re-clamping, +/-. Default: 0.3 mm.',
    ).optional(),
    bitDiameter: notNegative('How well the diameter of a bit is known, +/-. Default: 0.02 mm.').optional(),
    sanding: notNegative('Taken off later by hand, one-sided. Default: 0.2 mm.').optional(),
    measured: notNegative(
      'How well something is known that was measured at the wood (`measured` of a set-up), +/-. Default: 0.05 mm.',
    ).optional(),
  })
  .describe('How well things are known; they make the least and the most of every figure.')

const dialectName = z
  .enum(['rs274ngc', 'rs274ngc-strict', 'compact'])
  .describe(
    '`rs274ngc`: NISTIR 6556 with the extensions that kept programs use. `rs274ngc-strict`: the standard alone. `compact`: the small open motion firmware usually fitted to desktop routers.',
  )

const dialectSchema = z
  .union([
    dialectName,
    z.strictObject({
      extends: dialectName.optional(),
      add: z.array(z.string()).max(1000).describe('Codes that your machine knows besides, e.g. ["G81"].').optional(),
      remove: z.array(z.string()).max(1000).describe('Codes that your machine does not know.').optional(),
      lineLength: z.number().int().min(1).max(100_000).describe('Longest line it takes, in characters.').optional(),
    }),
  ])
  .describe('The dialect of G-code that the machine reads: a name, or one that is changed. Default: "rs274ngc".')

const machineSchema = z
  .strictObject({
    dialect: dialectSchema.optional(),
    travel: perAxis('How far the machine can go, `[x, y, z]`. Default: [600, 400, 90] mm.').optional(),
    maxFeed: perAxis('Fastest feed of each axis, length per minute. Default: [5000, 5000, 1500] mm/min.').optional(),
    rapidFeed: perAxis(
      'Speed of rapid moves of each axis, length per minute. Default: [5000, 5000, 1500] mm/min.',
    ).optional(),
    acceleration: perAxis(
      'Acceleration of each axis, length per second squared. Default: [400, 400, 200] mm/s².',
    ).optional(),
    spindle: z
      .strictObject({
        manual: z.boolean().describe('Switched on and set by hand: S and M3 do nothing.').optional(),
        speed: positive('Speed set by hand, rev/min. Default: 16000.').optional(),
        min: notNegative('Slowest speed, rev/min. Default: 8000.').optional(),
        max: positive('Fastest speed, rev/min. Default: 24000.').optional(),
        power: positive('Power, W. Default: 800.').optional(),
      })
      .describe('The spindle or router.')
      .optional(),
    clearance: notNegative(
      'Least height over everything solid for rapid travel in X and Y. Default: 1.5 mm.',
    ).optional(),
  })
  .describe('The machine.')

const blankSchema = z
  .strictObject({
    size: z
      .tuple([z.number().gt(0).max(1e5), z.number().gt(0).max(1e5), z.number().gt(0).max(1e5)])
      .describe('`[width (X), depth (Y), thickness (Z)]` as received.')
      .optional(),
    diameter: positive('Round blanks: the diameter. The blank sits in the middle of its square.').optional(),
    thickness: positive('Round blanks: the thickness as received.').optional(),
    material: z
      .string()
      .describe('The wood, e.g. "maple, sugar", or plywood or MDF. Default: hardwood not named.')
      .optional(),
    moisture: z.number().min(0).max(100).describe('Moisture content, percent.').optional(),
    grain: z.enum(['x', 'y']).describe('Along which side the grain runs. Default: `x`.').optional(),
    copies: z
      .record(z.string(), z.strictObject({ thickness: positive('Thickness of this copy as measured.').optional() }))
      .describe(
        'Several blanks of the same kind, each with its measured thickness; every program is checked on every copy.',
      )
      .optional(),
  })
  .describe('A piece of wood as received: `size`, or `diameter` and `thickness` for a round one.')

const keepOutSchema = z
  .strictObject({
    setup: z.string().describe('Name of the set-up in which the clamp is there.'),
    box: z.tuple([point(), point()]).describe('`[[xmin, ymin], [xmax, ymax]]` on the blank as it lies.'),
    height: positive('Height of the clamp over the face.'),
  })
  .describe('A clamp or anything else that the bit must keep clear of.')

/** The file format of a job sheet: the one source of the types, the checks, and the editor's completion and hover. */
export const sheetSchema = z
  .strictObject({
    $schema: z.string().describe('Where an editor finds the description of this file.').optional(),
    title: z.string().describe('What the piece is, for headings.').optional(),
    units: z
      .enum(['mm', 'inch'])
      .describe('Unit of every length in this file; programs keep their own G20 and G21. Default: `mm`.')
      .optional(),
    limits: limitsSchema.optional(),
    tolerances: tolerancesSchema.optional(),
    machine: machineSchema.optional(),
    bits: z
      .record(z.string().regex(/^\d{1,5}$/), bitSchema)
      .describe('The bits, each under its T number.')
      .optional(),
    blanks: z.record(z.string(), blankSchema).describe('The blanks, each under a name of your choice.'),
    setups: z.array(setupSchema).max(200).describe('The set-ups, in the order in which they are done.'),
    keepOut: z.array(keepOutSchema).max(1000).describe('Clamps and other things to keep clear of.').optional(),
  })
  .describe('A job sheet: one piece of work from rough blank to finished cutting.')

/** A job sheet as it is written, units as in the file, defaults not yet filled in. */
export type WrittenSheet = z.infer<typeof sheetSchema>

/** JSON Schema (draft 7, which editors read) of a job sheet, made from the same source as the types. */
export function sheetJsonSchema(): Record<string, unknown> {
  const schema = z.toJSONSchema(sheetSchema, { target: 'draft-7', io: 'input' }) as Record<string, unknown>
  return { ...schema, title: 'Job sheet', allowComments: true, allowTrailingCommas: true }
}
