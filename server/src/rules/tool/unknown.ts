import { causeOf } from '../common/fold.ts'
import { number } from '../common/wording.ts'
import type { RunRule } from '../rule.ts'

export const toolUnknown: RunRule = {
  id: 'tool/unknown',
  title: 'a T number that is not among the bits',
  severity: 'error',
  fix: 'which-bit',
  reads: 'run',
  check({ program }, sheet, report) {
    if (sheet.bits.size === 0) return
    const said = new Set<string>()
    for (const { tool, toolWord } of program.states) {
      if (tool === undefined || !toolWord || sheet.bits.has(tool) || said.has(causeOf(toolWord))) continue
      said.add(causeOf(toolWord))
      const known = [...sheet.bits.keys()].sort((a, b) => a - b).map(bit => `T${bit}`)
      report({
        at: toolWord,
        message: `T${number(tool, 0)} is not among the bits of this job (${known.join(', ')}): what it cuts cannot be judged, and at the machine it is easily the wrong bit. Correct the number, or describe the bit.`,
        found: tool,
      })
    }
  },
}
