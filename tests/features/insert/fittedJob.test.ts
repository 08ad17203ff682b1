import { expect, test } from 'vitest'
import { checkedWith } from '../../../server/src/features/fixes/trial.ts'
import { insertablesAt, operationsAt } from '../../../server/src/features/insert/insertOperation.ts'
import { edited, insertion } from '../../../server/src/features/rewrites/source.ts'
import { ProgramText } from '../../../server/src/syntax/programText.ts'
import { DISH_PROGRAMS, dishSheet } from '../../rules/dish.ts'
import { trialOf } from '../fixes/bench.ts'

const SHEET = 'job.jobsheet.json'

/** The job of the dish, and what is asked before the end of one of its programs. */
async function placeIn(program: keyof typeof DISH_PROGRAMS, programs: Record<string, string> = DISH_PROGRAMS) {
  const files = { ...programs, [SHEET]: JSON.stringify(dishSheet()) }
  const trial = await trialOf(files, `file:///job/${SHEET}`)
  const { checked } = trial
  const others = checked.outcome!.copies.flatMap(copy => copy.setups.flatMap(setup => setup.run ?? []))
  const runs = others.filter(run => run.setup.program.endsWith(`/${program}`))
  const text = programs[program]
  const line = text.split('\n').findIndex(each => /^M(2|30|5)\b/.test(each))
  const question = { text: new ProgramText(text), program: runs[0].program, runs, others, line }
  return { text, trial, question: { ...question, sheet: checked.outcome!.sheet } }
}

test('into a pocket that a plug fills nothing is put that the plug does not have', async () => {
  const { question } = await placeIn('pocket.nc')
  expect(insertablesAt(question)).toEqual({
    why: '"plug" carves the plug that fills this pocket: what is cut here and not there shows as a gap. Change the motif in both programs.',
  })
  // While no plug has been carved, a pocket is begun with what is offered.
  const first = await placeIn('pocket.nc', { ...DISH_PROGRAMS, 'plug.nc': 'G21 G90\nG0 Z20\nM2\n' })
  expect(operationsAt(first.question).map(({ id }) => id)).toContain('roundPocket')
})

test('what is put into its cavity as it is offered raises nothing', async () => {
  const { text: before, trial, question } = await placeIn('cavity.nc')
  const offered = operationsAt(question)
  expect(offered.map(({ id }) => id)).toContain('rectangularPocket')
  const known = trial.checked.findings.map(({ code, message }) => `${code}: ${message}`)
  for (const { id, lines } of offered) {
    const text = edited(before, [insertion(question.line, 0, lines.map(each => `${each}\n`).join(''))])
    const again = await checkedWith(trial, 'file:///job/cavity.nc', text)
    const raised = again.findings.map(({ code, message }) => `${code}: ${message}`)
    expect({ id, raised: raised.filter(each => !known.includes(each)) }).toEqual({ id, raised: [] })
  }
})
