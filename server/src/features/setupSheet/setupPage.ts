import { thicknessOf } from '../../job/measured.ts'
import type { JobOutcome } from '../../job/outcome.ts'
import type { InsertSetup, ProgramSetup, Setup } from '../../job/sheet.ts'
import { fileName } from '../../job/uris.ts'
import type { Finding } from '../../rules/rule.ts'
import { asItLies, type Lie } from '../../stock/lie.ts'
import { EMPTY, newStock } from '../../stock/stock.ts'
import { escapeMarkup } from '../preview/page.ts'
import { figuresOf, timeText } from '../sheet/setupFigures.ts'
import { benchWork } from './benchWork.ts'
import { bitDrawing } from './bitDrawing.ts'
import { bitTable, usedBits } from './bitTable.ts'
import { blankDrawing, type Lying } from './blankDrawing.ts'
import { cautionsFor } from './cautions.ts'
import { checkTable, pieceTable } from './checkTable.ts'
import { type OnCopy, onCopies } from './copies.ts'
import { afterProgram, beforeProgram } from './handWork.ts'
import { block, facts, type Lengths, ticks } from './markup.ts'
import { openFindings } from './openFindings.ts'
import { turnDrawing } from './turnDrawing.ts'
import { faceText, lieBefore, turningOf } from './turning.ts'

/** One set-up of a job on a page of its own. */
export function setupPage(setup: Setup, findings: readonly Finding[], outcome: JobOutcome, lengths: Lengths): string {
  const on = onCopies(outcome, setup.index)
  const { setups } = outcome.sheet
  const own = findings.filter(
    finding => finding.setup === setup.name || (finding.setup === undefined && setup === setups[0]),
  )
  const last = setup === setups.at(-1)
  const body =
    on.length === 0
      ? `<p><b>This set-up could not be worked out.</b> ${escapeMarkup(outcome.withheld.join(' '))}</p>`
      : setup.kind === 'program'
        ? programBody(setup, on, outcome, lengths)
        : benchBody(setup, on, outcome, lengths)
  const measured = checkTable(
    setup,
    on.map(({ copy }) => copy),
    outcome,
    lengths,
  )
  const cautions = cautionsFor(setup).map(text => escapeMarkup(text))
  return `<article class="sheet">
${header(setup, on, outcome)}
${body}
${measured}
${last ? pieceTable(outcome, lengths) : ''}
${openFindings(own)}
<section class="cautions"><h3>Take care</h3><p>${cautions.join(' ')}</p></section>
<footer><span>Done by ______________________ on ______________ copy ________</span><span>Treen knows a model of the wood, not yours</span></footer>
</article>`
}

function header(setup: Setup, on: readonly OnCopy[], { sheet }: JobOutcome): string {
  const blank = sheet.blanks.get(setup.blank)
  const names = on.map(({ copy }) => copy.copy).filter(name => name !== '')
  const copies =
    blank && blank.copies.size > 0 && names.length > 0
      ? `, ${names.length === 1 ? 'copy' : 'copies'} ${names.join(', ')}`
      : ''
  const program = setup.kind === 'program' ? fileName(setup.program) : kindText(setup)
  return `<header><div><h1>${escapeMarkup(sheet.title)}</h1><h2>${setup.index + 1}. ${escapeMarkup(setup.name)}</h2></div><p>set-up ${setup.index + 1} of ${sheet.setups.length}<br><b>${escapeMarkup(program)}</b><br>${escapeMarkup(`blank “${setup.blank}”${blank?.material ? `, ${blank.material}` : ''}${copies}`)}</p></header>`
}

function kindText(setup: Exclude<Setup, ProgramSetup>): string {
  if (setup.kind === 'insert') return setup.insert.kind === 'plug' ? 'glue in the plug' : 'pour the resin'
  return setup.kind === 'saw' ? 'at the saw' : 'by hand'
}

function programBody(setup: ProgramSetup, on: readonly OnCopy[], outcome: JobOutcome, lengths: Lengths): string {
  const [{ copy, done }] = on
  const { run } = done
  if (!run) return '<p><b>The program of this set-up could not be run.</b></p>'
  const { sheet } = outcome
  const turning = turningOf(lieBefore(sheet.setups, setup), setup.lie)
  const times = on.flatMap(({ done: { run: own } }) => (own ? [figuresOf(own, outcome).time.estimated] : []))
  const lying: Lying = {
    blank: run.blank,
    lie: setup.lie,
    before: run.before,
    after: run.after,
    zero: setup.zero,
    pins: setup.locate?.pins ?? [],
    clamps: sheet.keepOut.filter(keepOut => keepOut.setup === setup.name),
  }
  const list = facts([
    ['Up', faceText(setup.lie)],
    ['X0 Y0', zeroPlace(setup, lengths)],
    ['Z0', zeroText(setup, lengths)],
    ['Placed by', setup.locate?.by ?? 'corner'],
    [
      'Held by',
      setup.held === 'tabs'
        ? 'clamps; tabs at the end'
        : (setup.held ?? (lying.clamps.length > 0 ? 'clamps, as drawn' : 'clamps clear of the path')),
    ],
    ['Time', `about ${[...new Set(times.map(timeText))].join(' or ')}`],
  ])
  const pictures = [
    ...(turning ? [turnDrawing(turning, [lieBefore(sheet.setups, setup), setup.lie])] : []),
    ...usedBits(run).map(bitDrawing),
  ]
  return `<div class="top"><div>${blankDrawing(lying, setup.index)}${caption(lying)}</div><div class="aside"><div class="pictures">${pictures.join('')}</div>${list}</div></div>
${block('Bits, speeds and feeds', bitTable(run, outcome, lengths))}
<div class="two">${block('Before you start', ticks(beforeProgram(setup, run, outcome, lengths)))}${block('After it, before the next set-up', ticks(afterProgram(setup, copy, outcome, lengths)))}</div>`
}

function zeroPlace({ zero: { x, y } }: ProgramSetup, lengths: Lengths): string {
  if (x === 0 && y === 0) return 'near-left corner as it lies'
  return `${lengths.of(x)}, ${lengths.of(y)} from the near-left corner as it lies`
}

function zeroText({ zero }: ProgramSetup, lengths: Lengths): string {
  const where = zero.touch
    ? `on the surface at X ${lengths.of(zero.touch[0])}, Y ${lengths.of(zero.touch[1])}`
    : { face: 'on the upward face', bed: 'on the TABLE', kept: 'kept from before' }[zero.z]
  return zero.offset === 0 ? where : `${lengths.of(zero.offset)} above: ${where}`
}

function benchBody(
  setup: Exclude<Setup, ProgramSetup>,
  on: readonly OnCopy[],
  outcome: JobOutcome,
  lengths: Lengths,
): string {
  const [{ copy }] = on
  const lying = benchDrawing(setup, on[0], outcome)
  const work = block('What to do', ticks(benchWork(setup, copy, lengths)))
  return `<div class="top"><div>${blankDrawing(lying, setup.index)}${caption(lying)}</div><div class="aside">${work}</div></div>`
}

/** A blank on the bench: with the side up that the work is on. */
function benchDrawing(setup: Exclude<Setup, ProgramSetup>, { copy, done }: OnCopy, { sheet }: JobOutcome): Lying {
  const blank = sheet.blanks.get(setup.blank)
  if (!blank) throw new Error(`no blank "${setup.blank}"`)
  const { thickness } = thicknessOf(sheet, blank, copy.copy)
  const earlier = copy.setups.findLast(other => other.setup.blank === blank.name && other.setup.index < setup.index)
  const { width, depth, diameter } = blank
  const cell = done.stock.grid.cell
  const before = earlier?.stock ?? newStock({ width, depth, thickness, diameter }, cell)
  const lie: Lie =
    setup.kind === 'insert'
      ? lieOfPocket(setup, sheet.setups)
      : { face: setup.kind === 'saw' ? setup.face : 'top', turn: 'sideways', spin: 0 }
  const [was, is] = [before, done.stock].map(stock => asItLies(stock, lie, thickness))
  return { blank, lie, before: was, after: is, pins: [], clamps: [] }
}

function lieOfPocket({ into }: InsertSetup, setups: readonly Setup[]): Lie {
  const pocket = setups.find(({ name }) => name === into)
  return pocket?.kind === 'program' ? pocket.lie : { face: 'underside', turn: 'sideways', spin: 0 }
}

function caption({ lie, before, after, zero, pins, clamps }: Lying): string {
  const [was, is] = [before.layers[0], after.layers[0]]
  const isThrough = is.hi.some((hi, k) => hi <= EMPTY && was.hi[k] > EMPTY)
  const inlay = is.hi.some((hi, k) => hi > EMPTY && is.material[k] > 0)
  const parts = [
    `Seen from above, ${faceText(lie)} up.`,
    zero ? `Grey: what this program takes, darker where deeper${isThrough ? '; darkest: right through' : ''}.` : '',
    inlay ? 'Hatched: inlay, where it shows in the end.' : '',
    pins.length > 0 ? 'Pins: X, Y from the near-left corner as it lies.' : '',
    clamps.length > 0 ? `Keep clear: ${clamps.length} clamps.` : '',
  ]
  return `<p class="caption">${escapeMarkup(parts.filter(part => part !== '').join(' '))}</p>`
}
