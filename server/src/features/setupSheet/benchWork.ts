import type { CopyOutcome } from '../../job/outcome.ts'
import type { HandSetup, InsertSetup, SawSetup } from '../../job/sheet.ts'
import { type Lengths, plain } from './markup.ts'

/** What to do in a set-up that runs no program, in order. Common practice, no source. */
export function benchWork(
  setup: InsertSetup | SawSetup | HandSetup,
  { figures }: CopyOutcome,
  lengths: Lengths,
): string[] {
  switch (setup.kind) {
    case 'insert':
      return setup.insert.kind === 'resin' ? resinWork(setup.insert, figures) : plugWork(setup.insert.glueLine, lengths)
    case 'saw':
      return [
        'Mark the line all round; make sure that the outline is cut deeper than the saw will come.',
        `Saw from the ${setup.face === 'top' ? 'top' : 'underside'}, so that ${lengths.of(setup.leaves)} are left to the opposite face.`,
        'Take it in one slow pass along a tall fence, with a push block; let the blade stop before you reach in.',
        'Plane or sand off the saw marks.',
      ]
    case 'hand':
      return [
        `Round the edges over with ${lengths.of(setup.roundOver)} radius; its bearing runs on at least ${lengths.of(setup.bearing)} of straight wall. Try it on an offcut first.`,
        'Sand 120, 150, 180, 220, with the grain; wet it once, let it dry, sand the last grit again.',
        'Finish as its maker says, and let it cure to the end.',
      ]
  }
}

function plugWork(glueLine: number, lengths: Lengths): string[] {
  const film =
    glueLine > 0 ? ` The job reckons with ${lengths.of(glueLine)} of film under the plug: spread no thicker.` : ''
  return [
    'Turn the plug over: its carved face goes down into the pocket. Grain the same way as the blank’s.',
    'Dry-fit: it must go home by hand, all round, without a blow. Where it sticks, find the place with pencil and ease it.',
    'Give air and glue a way out: a vent of 2 mm through the bottom where the cavity will be, or a shallow groove.',
    'Cover the bench; lay the cauls, waxed or papered, and the clamps ready before the glue.',
    `Thin glue on the bottom and the walls of the pocket, little on the plug: its water swells both.${film}`,
    'Press it home, flat caul over it, clamps from the middle outwards; wipe off what comes out.',
    'Check that it went as deep all round as at the dry fit. Leave it clamped, and dry, as long as the maker of the glue says.',
  ]
}

type Resin = Extract<InsertSetup['insert'], { kind: 'resin' }>

function resinWork(insert: Resin, { resin }: CopyOutcome['figures']): string[] {
  const pours = resin?.pours ?? 1
  const layers =
    pours > 1
      ? `Pour in ${pours} layers, none deeper than ${plain(insert.maxPourDepth)} mm; between them wait as the maker says.`
      : `Pour slowly at one spot, in one layer (its maker allows ${plain(insert.maxPourDepth)} mm).`
  return [
    'Seal the pocket, walls and bottom, with a thin brushed coat; let it grow tacky or hard as the maker says.',
    'Dam its rim with tape or wax, tight. Level the blank both ways with a spirit level.',
    'Wood and resin at room temperature. Mix the amounts below exactly, slowly, scraping sides and bottom; then pour into a clean cup.',
    layers,
    'Bubbles: a pin, or a quick pass of warm air, never a flame held still. Look again after ten minutes, and after an hour.',
    'Cover it against dust.',
    insert.shrinkage > 0
      ? `It shrinks by about ${plain(insert.shrinkage * 100)} %: top it up where it has sunk under the rim, before it is fully hard.`
      : 'Top it up where it has sunk under the rim, before it is fully hard.',
    'Wait until it is cured through, as long as its maker says for this depth and temperature: often two or three days.',
  ]
}
