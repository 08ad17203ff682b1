import type { Setup } from '../../job/sheet.ts'

const ALWAYS =
  'Local rules, makers’ data sheets and trained practice come first. A checked program can still be wrong for the machine in front of you.'

const AT_MACHINE = [
  'Eye and ear protection, dust mask, extraction running.',
  'Clamps and cables out of the path; the blank cannot lift, slide or rock.',
  'Never reach in while the spindle turns; never leave the machine alone. First run with a hand on the stop.',
]

const AT_SAW = ['At the saw: a tall fence, guides set close, hands clear of the blade; hold no small piece by hand.']

const WITH_RESIN = [
  'Gloves, long sleeves and fresh air: uncured resin harms skin and its vapour harms lungs and eyes.',
  'A thick pour heats itself, in the cup as well; no source of fire near. Cured chips cling and are sharp.',
]

const WITH_GLUE = ['Gloves and fresh air as the maker of the glue says. Keep fingers from between caul and clamp.']

const BY_HAND = [
  'Eye and ear protection, dust mask. Hold the piece down; feed the hand router against the turning of its bit.',
  'For food: a finish that its maker says is fit for it, fully cured.',
]

/** What can hurt in a set-up, in the order in which it is met. Common practice, no source. */
export function cautionsFor(setup: Setup): string[] {
  return [...ownCautions(setup), ALWAYS]
}

function ownCautions(setup: Setup): readonly string[] {
  switch (setup.kind) {
    case 'program': {
      const loose = setup.makes === 'outline' ? ['The piece may come loose at the last pass: check what holds it.'] : []
      return [...AT_MACHINE, ...loose, ...(setup.sawAt === undefined ? [] : AT_SAW)]
    }
    case 'insert':
      return setup.insert.kind === 'resin' ? WITH_RESIN : WITH_GLUE
    case 'saw':
      return ['Eye and ear protection, dust mask.', ...AT_SAW]
    case 'hand':
      return BY_HAND
  }
}
