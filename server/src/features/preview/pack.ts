import { thicknessOf } from '../../job/measured.ts'
import type { CopyFigures, CopyOutcome, JobOutcome, SetupOutcome } from '../../job/outcome.ts'
import type { Blank, Sheet } from '../../job/sheet.ts'
import { type Finding, GRAVITY } from '../../rules/rule.ts'
import type { Bit } from '../../stock/bit.ts'
import { EMPTY, type Stock } from '../../stock/stock.ts'
import type { Joint, PreviewJob, PreviewSetup } from './protocol.ts'

/**
 * What the preview needs of a job that has been worked out, for one copy.
 * @param copy name of the copy; where there is none of that name, the one with the gravest finding, else the first.
 * @param findings of the whole job; those true of other copies only are left out.
 */
export function previewJobOf(outcome: JobOutcome, copy: string, findings: readonly Finding[]): PreviewJob {
  const copies = outcome.copies.map(each => each.copy)
  const chosen = outcome.copies.find(each => each.copy === copy) ?? worstOf(outcome, findings)
  const name = chosen?.copy ?? copy
  return {
    title: outcome.sheet.title,
    sheet: outcome.document.uri,
    copy: name,
    copies,
    blanks: [...outcome.sheet.blanks.values()].map(blank => blankOfCopy(outcome.sheet, blank, name)),
    cell: chosen?.setups[0]?.stock.grid.cell ?? 0.25,
    setups: chosen ? setupsOf(chosen, outcome.sheet) : [],
    limits: outcome.sheet.limits,
    figures: figuresOf(chosen?.figures ?? {}),
    figuresOfCopies: outcome.copies.map(({ copy, setups, figures }) => ({
      copy,
      thickness: setups.findLast(({ run }) => run)?.run?.thickness ?? 0,
      figures: figuresOf(figures),
      found: findings.filter(finding => isTrueOf(finding, copy)).length,
    })),
    keepOut: outcome.sheet.keepOut,
    joint: jointOf(chosen?.figures ?? {}),
    findings: findings
      .filter(finding => isTrueOf(finding, name))
      .map(({ code, severity, message, file, range, setup }) => ({ code, severity, message, file, range, setup })),
  }
}

const isTrueOf = ({ copies }: Finding, copy: string) => !copies || copies.includes(copy)

function worstOf({ copies }: JobOutcome, findings: readonly Finding[]): CopyOutcome | undefined {
  const worst = (copy: string) =>
    Math.max(0, ...findings.filter(finding => isTrueOf(finding, copy)).map(({ severity }) => GRAVITY[severity]))
  return copies.reduce<CopyOutcome | undefined>(
    (best, each) => (best && worst(best.copy) >= worst(each.copy) ? best : each),
    undefined,
  )
}

function figuresOf({ fit, ...figures }: CopyFigures): PreviewJob['figures'] {
  if (!fit) return figures
  const { plug: _found, ...shown } = fit
  return { ...figures, fit: shown }
}

function jointOf({ fit }: CopyFigures): Joint | undefined {
  if (!fit) return undefined
  const { pieces } = fit.plug
  const upright = pieces.every(piece => piece.walls.length === 1)
  return {
    plug: upright ? pieces.flatMap(piece => piece.walls.flatMap(({ plug }) => plug)) : [],
    gaps: pieces.flatMap(piece => piece.gapLines),
  }
}

function blankOfCopy(sheet: Sheet, blank: Blank, copy: string): PreviewJob['blanks'][number] {
  const { copies: _, ...rest } = blank
  return { ...rest, thickness: thicknessOf(sheet, blank, copy).thickness }
}

function setupsOf(copy: CopyOutcome, sheet: Sheet): PreviewSetup[] {
  const setups: PreviewSetup[] = []
  const latest = new Map<string, Stock>()
  for (const outcome of copy.setups) {
    const setup = setupOf(outcome, copy, sheet, latest.get(outcome.setup.blank))
    if (setup) setups.push(setup)
    latest.set(outcome.setup.blank, outcome.stock)
  }
  return setups
}

function setupOf(
  outcome: SetupOutcome,
  copy: CopyOutcome,
  { machine }: Sheet,
  before: Stock | undefined,
): PreviewSetup | undefined {
  const { setup, run, stock } = outcome
  const { name, blank } = setup
  switch (setup.kind) {
    case 'program': {
      // A set-up whose program could not be had was not run, and there is nothing of it to show.
      if (!run) return undefined
      const bits: Bit[] = []
      const bitOfState = Int16Array.from(run.bitOfState, bit => {
        if (!bit) return -1
        const known = bits.indexOf(bit)
        return known >= 0 ? known : bits.push(bit) - 1
      })
      return {
        kind: 'program',
        name,
        blank,
        makes: setup.makes,
        program: setup.program,
        lie: setup.lie,
        shift: run.shift,
        motions: run.program.motions,
        bits,
        bitOfState,
        feedOfState: Float64Array.from(run.program.states, state => state.feed),
        speedOfState: Float64Array.from(run.program.states, state => {
          if (machine.spindle.manual) return machine.spindle.speed
          return state.spindle === 'stopped' ? Number.NaN : state.speed
        }),
        axial: run.engagement.axial,
        radial: run.engagement.radial,
        faceLevel: run.faceLevel,
        operations: run.program.operations,
      }
    }
    case 'insert': {
      const insert = copy.inserts.find(each => each.setup.index === setup.index)
      // A plug that does not go in, or whose pocket is not there, leaves the pocket as it was.
      if (!insert) return undefined
      const { material, cells, lo, hi } = insert
      const film = setup.insert.kind === 'plug' ? setup.insert.glueLine : 0
      return { kind: 'insert', name, blank, of: setup.insert.kind, material, cells, lo, hi, film }
    }
    case 'saw':
      return { kind: 'saw', name, blank, face: setup.face, at: heightOfCut(before ?? stock, setup.face, setup.leaves) }
    case 'hand':
      return { kind: 'hand', name, blank, roundOver: setup.roundOver }
  }
}

/** Height of a saw cut that leaves `leaves` mm to the highest wood of the opposite face, blank frame. */
function heightOfCut(stock: Stock, face: 'top' | 'underside', leaves: number): number {
  let highest = EMPTY
  let lowest = -EMPTY
  for (const layer of stock.layers) {
    for (let cell = 0; cell < layer.hi.length; cell++) {
      // The blank's own wood only: inserts are not what the fence rests on.
      if (layer.hi[cell] <= EMPTY || layer.material[cell] !== 0) continue
      highest = Math.max(highest, layer.hi[cell])
      lowest = Math.min(lowest, layer.lo[cell])
    }
  }
  return face === 'underside' ? highest - leaves : lowest + leaves
}
