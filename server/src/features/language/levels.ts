import type { Program } from '../../machine/program.ts'
import { drop, isFeed, isLevel, lengthAcross } from '../../rules/common/path.ts'
import { programHeight } from '../../rules/common/words.ts'
import { SAME_LEVEL } from '../../rules/tolerances.ts'

/** Lines that cut at one height, with the way down to it. */
export interface Level {
  /** Height as the program writes it, mm. */
  readonly z: number
  readonly firstLine: number
  readonly lastLine: number
}

/** A level shorter than this share of the longest beside it is a link or a piece of a helix. */
const LEAST_SHARE = 0.05
/** More heights than this in one part are a surface, not levels: nobody steps down so often. */
const MOST_LEVELS = 100

interface Piece {
  readonly z: number
  readonly firstLine: number
  lastLine: number
  /** mm, across. */
  length: number
  /** Of the way down or up before it, mm, across. */
  readonly slope: number
}

const known = new WeakMap<Program, readonly Level[]>()

/**
 * The levels of each operation, or of a program without operations as a whole, in the order of the text; none where
 * there is only one. Lines that are not obeyed in their order (loops, subprograms) are in none.
 */
export function levelsOf(program: Program): readonly Level[] {
  const made = known.get(program) ?? makeLevels(program)
  known.set(program, made)
  return made
}

function makeLevels(program: Program): Level[] {
  const { operations } = program
  const parts = operations.length > 0 ? operations : [{ firstLine: 0, lastLine: program.lineCount - 1 }]
  const pieces = piecesOf(program, parts)
  const levels: Level[] = []
  let next = 0
  for (const { firstLine, lastLine } of parts) {
    while (next < pieces.length && pieces[next].firstLine < firstLine) next++
    const inside: Piece[] = []
    while (next < pieces.length && pieces[next].firstLine <= lastLine) inside.push(pieces[next++])
    levels.push(...longEnough(inside, lastLine))
  }
  return levels
}

function longEnough(pieces: readonly Piece[], lastLine: number): Level[] {
  // A helix written to three places has level pieces in it, and is none: it is mostly on its way down.
  const level = pieces.reduce((sum, { length }) => sum + length, 0)
  const slope = pieces.reduce((sum, piece) => sum + piece.slope, 0)
  if (!(slope <= level)) return []
  const longest = pieces.reduce((most, { length }) => Math.max(most, length), 0)
  const kept: Piece[] = []
  for (const piece of pieces) {
    const last = kept.at(-1)
    if (piece.length < longest * LEAST_SHARE) continue
    // What was left out between may have parted one level in two.
    if (last && Math.abs(last.z - piece.z) <= SAME_LEVEL) last.lastLine = piece.lastLine
    else kept.push({ ...piece })
  }
  if (kept.length < 2 || kept.length > MOST_LEVELS) return []
  return kept.map((piece, i) => {
    const end = i + 1 < kept.length ? kept[i + 1].firstLine - 1 : lastLine
    return { z: piece.z, firstLine: piece.firstLine, lastLine: Math.max(piece.firstLine, end) }
  })
}

/** Level feed moves of one part at one height one after the other, from the first move down to it. */
function piecesOf(program: Program, parts: readonly { firstLine: number }[]): Piece[] {
  const { motions } = program
  const pieces: Piece[] = []
  let open: Piece | undefined
  /** Line of the first feed move down since the last level move. */
  let descent = -1
  let slope = 0
  let furthest = -1
  let part = 0
  for (let i = 0; i < motions.count; i++) {
    const line = motions.line[i]
    const goesOn = line >= furthest
    furthest = Math.max(furthest, line)
    if (!goesOn) continue
    for (; part < parts.length && parts[part].firstLine <= line; part++) {
      open = undefined
      descent = -1
      slope = 0
    }
    if (!isFeed(motions, i)) continue
    if (!isLevel(motions, i)) {
      if (descent < 0 && !(drop(motions, i) <= 0)) descent = line
      const across = lengthAcross(motions, i)
      if (Number.isFinite(across)) slope += across
      continue
    }
    const z = programHeight(program, i)
    if (!open || !(Math.abs(open.z - z) <= SAME_LEVEL)) {
      open = { z, firstLine: descent >= 0 ? descent : line, lastLine: line, length: 0, slope }
      pieces.push(open)
      slope = 0
    }
    descent = -1
    open.lastLine = line
    open.length += lengthAcross(motions, i)
  }
  return pieces
}
