import { z } from 'zod'

const severity = z.enum(['error', 'warning', 'information'])
const mm = (what: string) => z.number().describe(`${what}, mm`)
const point = (what: string) => z.array(z.number()).length(2).describe(`${what}: X and Y in the blank frame, mm`)

const position = z.strictObject({
  line: z.int().min(0).describe('0-based'),
  character: z.int().min(0).describe('0-based, in UTF-16 code units'),
})
const range = z.strictObject({ start: position, end: position }).describe('As in the Language Server Protocol.')

const finding = z
  .strictObject({
    file: z.string().describe('The program or sheet, relative to the working folder.'),
    code: z.string().regex(/^[a-z]+\/[a-z-]+$/),
    severity,
    sheet: z.string().describe('The job sheet that it is true of.').optional(),
    setup: z.string().optional(),
    copies: z.array(z.string()).describe('Absent where it is true of all.').optional(),
    range,
    message: z.string(),
    found: z.number().optional(),
    limit: z.number().optional(),
    reach: z
      .strictObject({ moves: z.int(), firstLine: z.int(), lastLine: z.int() })
      .describe('How far one cause reaches: moves, and the lines of the first and last, 0-based.')
      .optional(),
    reason: z.string().describe('Suppressed ones: what the comment that allows it says.').optional(),
    related: z.array(z.strictObject({ file: z.string(), range, message: z.string() })),
    fixes: z.array(z.string()).describe('Titles of the changes that an editor would offer.'),
  })
  .describe('One thing that is wrong.')

const withheld = z
  .strictObject({ file: z.string(), sheet: z.string().optional(), code: z.string(), why: z.string() })
  .describe('A rule that could not run, and why.')

const box = z.array(z.array(z.number()).length(3)).length(2).describe('Least and most X, Y and Z, mm')

const program = z
  .strictObject({
    file: z.string(),
    sheet: z.string().optional(),
    setup: z.string().optional(),
    copy: z.string().optional(),
    lines: z.int(),
    extents: z
      .strictObject({ cut: box.optional(), all: box.optional() })
      .describe('Of the controlled point, in program coordinates: of the feed moves, and of all moves.'),
    length: z.strictObject({ cut: mm('Feed moves'), rapid: mm('Rapid moves') }),
    time: z.strictObject({
      nominal: z.number().describe('Distance over feed, s'),
      estimated: z.number().describe('With acceleration and corners, s'),
    }),
    removedVolume: z.number().describe('Solid material only, mm³').optional(),
    deepest: z
      .strictObject({ depth: mm('Under the face'), line: z.int().min(0).describe('0-based') })
      .describe('Lowest controlled point on a feed move that removes material.')
      .optional(),
    bits: z
      .record(
        z.string(),
        z.strictObject({
          cutLength: mm('Feed moves'),
          time: z.number().describe('s'),
          passDepth: mm('Deepest axial engagement'),
          chipLoad: z.array(z.number()).length(2).describe('Least and most for each tooth, mm').optional(),
        }),
      )
      .describe('By T number.')
      .optional(),
  })
  .describe('One program in one set-up on one copy, or a program that was run in no wood.')

const figureFields = {
  nominal: mm('As declared'),
  least: mm('Worst case'),
  most: mm('Worst case'),
  at: point('Where').optional(),
  sum: z.string().describe('The sum that leads to it.').optional(),
  hint: z.string().describe('What would make it better known.').optional(),
}
const figure = z.strictObject(figureFields)

const copy = z.strictObject({
  floor: figure.optional(),
  wall: figure.optional(),
  reveal: z
    .strictObject({
      ...figureFields,
      shown: z.number().min(0).max(1).describe("Share of the motif's area that shows."),
      offFloor: z
        .strictObject({ area: z.number().describe('mm²'), shows: z.boolean(), at: point('Farthest up') })
        .optional(),
    })
    .optional(),
  inlayLeft: figure.optional(),
  fit: z
    .strictObject({
      tightest: figure,
      loosest: figure,
      gapBeneath: mm('Room under the plug'),
      proud: mm('Over the face as glued'),
      mirrored: z.boolean(),
      pieces: z.array(
        z.strictObject({
          tightest: mm('Gap'),
          loosest: mm('Gap'),
          at: point('Middle'),
          turned: z.number().describe('Degrees'),
          gluedHeight: mm('Wall against wall'),
        }),
      ),
      movement: z.looseObject({}).describe("What the glue's water will do to the gap.").optional(),
    })
    .optional(),
  level: z.strictObject({ proud: mm('After the last levelling') }).optional(),
  resin: z
    .strictObject({
      volume: z.number().describe('mm³'),
      withOverfill: z.number().describe('mm³'),
      mass: z.number().describe('g'),
      parts: z.array(z.number()).length(2).describe('g by weight, mm³ by volume'),
      by: z.enum(['weight', 'volume']),
      pours: z.int().min(1),
      area: z.number().describe('mm²'),
    })
    .optional(),
  finalVolume: z.number().describe('mm³').optional(),
})

const report = z
  .strictObject({
    version: z.literal(1),
    findings: z.array(finding),
    suppressed: z.array(finding).describe('Silenced by comments.'),
    withheld: z.array(withheld),
    programs: z.array(program),
    jobs: z.array(
      z.strictObject({
        sheet: z.string(),
        copies: z.record(z.string(), copy).describe('One named "" where none is listed.'),
      }),
    ),
  })
  .describe('What `treen check --format json` prints. Fields may be added within a version.')

/** JSON Schema (2020-12) of the report of `--format json`. */
export function reportJsonSchema(): Record<string, unknown> {
  return { ...z.toJSONSchema(report, { target: 'draft-2020-12' }), title: 'Report of treen check' }
}
