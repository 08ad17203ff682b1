import type { Program } from '../machine/program.ts'
import type { Bit } from '../stock/bit.ts'
import type { ProgramSetup, Sheet } from './sheet.ts'

/**
 * The number of the bit in the spindle when each set-up's program begins: what the set-up says, else what was in the
 * spindle when the program before it ended, else the only bit there is. Undefined where none can be told.
 */
export function startingBits(
  sheet: Sheet,
  programs: ReadonlyMap<string, Program>,
): Map<ProgramSetup, number | undefined> {
  const only = sheet.bits.size === 1 ? [...sheet.bits.keys()][0] : undefined
  const starts = new Map<ProgramSetup, number | undefined>()
  let inSpindle: number | undefined
  for (const setup of sheet.setups) {
    if (setup.kind !== 'program') continue
    const start = setup.bit ?? inSpindle ?? only
    starts.set(setup, start)
    inSpindle = programs.get(setup.program)?.states.at(-1)?.tool ?? start
  }
  return starts
}

/** The bit in force in each state of a program that begins with a bit in the spindle. */
export function bitsOfStates(program: Program, sheet: Sheet, start: number | undefined): (Bit | undefined)[] {
  return program.states.map(({ tool }) => {
    const number = tool ?? start
    return number === undefined ? undefined : sheet.bits.get(number)
  })
}
