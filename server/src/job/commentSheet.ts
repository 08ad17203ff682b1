import type { Comment, Program } from '../machine/program.ts'
import { type Range, rangeOf } from '../syntax/source.ts'
import { completeBit } from './reading/completeBit.ts'
import { bitDeclaration, blankDeclaration, type DeclaredBlank } from './reading/declarations.ts'
import { MACHINE, TOLERANCES, USUAL, type Usual } from './reading/defaults.ts'
import { familyOf } from './reading/materials.ts'
import type { WrittenBit } from './reading/schemaBits.ts'
import type { ProgramSetup, Sheet, Zero } from './sheet.ts'
import type { SheetDocument, SheetPath, SheetProblem } from './sheetDocument.ts'
import { fileName } from './uris.ts'

/** Declarations stand near the top: before the first motion, or in the first so many lines. */
const NEAR_TOP = 40

/**
 * The sheet that a program declares in comments near its top, as one set-up of one blank: `(blank: 220 x 160 x 24 mm,
 * zero near-left face)`, `(bit 1: flat 6 mm, 2 flutes, cutting length 22, chip load 0.05-0.12)`. Undefined where no
 * comment begins like one; a comment that begins so but does not fit is a problem and nothing else.
 */
export function commentSheet(uri: string, program: Program, usual: Usual = USUAL): SheetDocument | undefined {
  const problems: SheetProblem[] = []
  const ranges = new Map<string, Range>()
  const bits = new Map<number, WrittenBit>()
  let blank: DeclaredBlank | undefined
  let any = false
  const refuse = (comment: Comment, why: string) =>
    problems.push({ code: 'sheet/declaration-not-read', range: rangeOf(comment.span), message: why })
  for (const comment of nearTop(program)) {
    const bit = bitDeclaration(comment.text)
    const wood = blankDeclaration(comment.text)
    if (bit ?? wood) any = true
    if (bit && 'why' in bit) refuse(comment, bit.why)
    else if (bit && bits.has(bit.number))
      refuse(comment, `Bit ${bit.number} is declared above already; this is passed over.`)
    else if (bit) {
      bits.set(bit.number, bit.bit)
      ranges.set(`bits ${bit.number}`, rangeOf(comment.span))
    }
    if (wood && 'why' in wood) refuse(comment, wood.why)
    else if (wood && blank) refuse(comment, 'The blank is declared above already; this is passed over.')
    else if (wood) {
      blank = wood
      ranges.set('blanks', rangeOf(comment.span))
    }
  }
  if (!any) return undefined
  const whole = { start: { line: 0, character: 0 }, end: { line: 0, character: 0 } }
  const place = ([head, key]: SheetPath) => ranges.get(`${head} ${key}`) ?? ranges.get('blanks') ?? whole
  const sheet = blank && sheetOf(uri, blank, bits, usual)
  return { uri, text: '', sheet, problems, rangeOf: place, nameRangeOf: place }
}

function nearTop({ comments, motions }: Program): Comment[] {
  const before = Math.max(NEAR_TOP, motions.count > 0 ? motions.line[0] : 0)
  return comments.filter(({ span }) => span.line < before)
}

function sheetOf(
  uri: string,
  declared: DeclaredBlank,
  written: ReadonlyMap<number, WrittenBit>,
  { limits, dialect }: Usual,
): Sheet {
  const families = [familyOf(declared.material)]
  const bits = [...written].map(
    ([number, bit]) => [number, completeBit(number, bit, 1, families, MACHINE.spindle)] as const,
  )
  const name = fileName(uri)
  const { width, depth, thickness, diameter, material } = declared
  const setup: ProgramSetup = {
    kind: 'program',
    name,
    index: 0,
    blank: 'blank',
    program: uri,
    lie: { face: 'top', turn: 'sideways', spin: 0 },
    zero: zeroOf(declared),
    makes: 'other',
    through: 0,
  }
  return {
    title: name,
    limits,
    tolerances: TOLERANCES,
    machine: { ...MACHINE, dialect },
    bits: new Map(bits),
    blanks: new Map([
      ['blank', { name: 'blank', width, depth, thickness, diameter, material, grain: 'x', copies: new Map() }],
    ]),
    setups: [setup],
    keepOut: [],
  }
}

function zeroOf({ width, depth, corner, onBed }: DeclaredBlank): Zero {
  const x = corner === 'centre' ? width / 2 : corner.endsWith('right') ? width : 0
  const y = corner === 'centre' ? depth / 2 : corner.startsWith('far') ? depth : 0
  return { x, y, z: onBed ? 'bed' : 'face', offset: 0 }
}
