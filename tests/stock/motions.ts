import { type Arc, MotionKind, type Motions } from '../../server/src/machine/motions.ts'

export interface Move {
  readonly to: readonly [number, number, number]
  readonly kind?: MotionKind
  readonly arc?: Arc
  readonly state?: number
}

/** Motions from a list, as a program would have made them. */
export function motionsOf(start: readonly [number, number, number], moves: readonly Move[]): Motions {
  const arcs: Arc[] = []
  const motions: Motions = {
    count: moves.length,
    kind: Uint8Array.from(moves, move => move.kind ?? MotionKind.line),
    flags: new Uint8Array(moves.length),
    x: Float64Array.from(moves, move => move.to[0]),
    y: Float64Array.from(moves, move => move.to[1]),
    z: Float64Array.from(moves, move => move.to[2]),
    line: Uint32Array.from(moves, (_, k) => k),
    state: Uint32Array.from(moves, move => move.state ?? 0),
    arc: Int32Array.from(moves, move => (move.arc ? arcs.push(move.arc) - 1 : -1)),
    arcs,
    start,
  }
  return motions
}
