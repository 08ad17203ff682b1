import { pointAsItLies, pointAsReceived } from '../../stock/lie.ts'
import { type Assignment, assign } from './assign.ts'
import type { FitInput } from './input.ts'
import { contains } from './loops.ts'
import type { Mate, Mating } from './mate.ts'
import type { PocketHollow, StandingPart } from './pieces.ts'
import type { FitDoubt } from './result.ts'

/** A standing part under this share of the smallest hollow is a post that was left over, not a piece. */
const POST = 0.02

/** Waste inside a ring is a doubt only if it matches a hollow nearly as well as the piece that got it, mm. */
const ALIKE = 0.3

/**
 * Which of the standing parts are plug, each with the hollow it goes into. The pocket tells pieces from waste as far
 * as it can; the sheet's `pieces` points settle the rest; what neither settles is a doubt.
 */
export function tellPlug(
  input: FitInput,
  mating: Mating,
  hollows: readonly PocketHollow[],
): { readonly mates: readonly Mate[]; readonly doubts: readonly FitDoubt[] } {
  const smallest = Math.min(...hollows.map(hollow => hollow.area))
  const { parts } = mating.standing
  const candidates = parts.filter(part => part.area >= POST * smallest)
  if (candidates.length === 0) {
    const message =
      'All that the plug program leaves standing is far smaller than the pocket. Do both programs and both set-ups mean the same units and the same motif?'
    return { mates: [], doubts: [{ kind: 'nothing-stands', message, places: [] }] }
  }
  const named = input.pieces && namedParts(input, candidates)
  if (named?.missed.length) {
    return {
      mates: [],
      doubts: [
        {
          kind: 'no-such-piece',
          message: `No standing part of the plug's blank lies at ${spots(named.missed)}.`,
          places: named.missed,
        },
      ],
    }
  }
  const dealt = assign(mating, named?.parts ?? candidates, hollows, true, input.glueLine)
  const open = named ? dealt.left.map(({ part }) => part) : unsettled(dealt)
  if (open.length === 0) return { mates: dealt.mates, doubts: [] }
  const places = [...dealt.mates.map(mate => mate.part), ...open].map(part => placeOf(input, part))
  return {
    mates: [],
    doubts: [
      {
        kind: 'which-plug',
        message:
          `${places.length} parts are left standing on the plug's blank (around ${spots(places)}), but the pocket ` +
          `has room for ${hollows.length}: say in "pieces" which of them are the plug.`,
        places,
      },
    ],
  }
}

function unsettled({ mates, misfits, left }: Assignment): StandingPart[] {
  const worst = Math.sqrt(Math.max(0, ...misfits.slice(0, mates.length)))
  return left.filter(({ part, misfit }) => !part.nested || Math.sqrt(misfit) < worst + ALIKE).map(({ part }) => part)
}

function namedParts({ pieces = [], plug }: FitInput, parts: readonly StandingPart[]) {
  const chosen = new Set<StandingPart>()
  const missed: (readonly [number, number])[] = []
  for (const point of pieces) {
    const [x, y] = pointAsItLies([point[0], point[1], 0], plug.lie, plug.size)
    const part = parts.find(one => contains(one.outlines, x, y))
    if (part) chosen.add(part)
    else missed.push(point)
  }
  return { parts: parts.filter(part => chosen.has(part)), missed }
}

function placeOf({ plug }: FitInput, part: StandingPart): readonly [number, number] {
  const [x, y] = pointAsReceived([part.centre[0], part.centre[1], 0], plug.lie, plug.size)
  return [x, y]
}

const spots = (places: readonly (readonly [number, number])[]) =>
  places.map(([x, y]) => `[${x.toFixed(1)}, ${y.toFixed(1)}]`).join(', ')
