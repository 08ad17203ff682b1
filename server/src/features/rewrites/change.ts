import type { Plane } from '../../machine/motions.ts'
import { PLANE_AXES, type Triple } from './walk.ts'

/**
 * Where a rewrite takes every place of the program, in mm: axis `a` of the old place goes to axis `axes[a]` of the new
 * one, times `scale[a]`, plus `shift` of that new axis.
 */
export interface Change {
  readonly axes: readonly [number, number, number]
  readonly scale: Triple
  readonly shift: Triple
}

export const SAME: Change = { axes: [0, 1, 2], scale: [1, 1, 1], shift: [0, 0, 0] }

export const isSame = ({ axes, scale, shift }: Change): boolean =>
  axes.every((to, a) => to === a) && scale.every(each => each === 1) && shift.every(each => each === 0)

/** Where a place goes; an axis that is not known stays unknown. */
export function placed({ axes, scale, shift }: Change, place: Triple): Triple {
  const to: [number, number, number] = [Number.NaN, Number.NaN, Number.NaN]
  for (let a = 0; a < 3; a++) to[axes[a]] = place[a] * scale[a] + shift[axes[a]]
  return to
}

/** A place of a plane's two axes, in the same plane after the change. */
export function placedInPlane(change: Change, plane: Plane, [a, b]: readonly [number, number]): [number, number] {
  const [first, second] = PLANE_AXES[plane]
  const whole: [number, number, number] = [0, 0, 0]
  whole[first] = a
  whole[second] = b
  const to = placed(change, whole)
  return [to[first], to[second]]
}

/** The plane is its own image, and circles in it stay circles. */
export function keepsCircles({ axes, scale }: Change, plane: Plane): boolean {
  const [a, b] = PLANE_AXES[plane]
  const inPlane = (axes[a] === a && axes[b] === b) || (axes[a] === b && axes[b] === a)
  return inPlane && Math.abs(scale[a]) === Math.abs(scale[b])
}

/** Seen from the plane's normal, left and right change places: clockwise becomes counter-clockwise. */
export function turnsOver({ axes, scale }: Change, plane: Plane): boolean {
  const [a, b] = PLANE_AXES[plane]
  const crossed = axes[a] === a ? 1 : -1
  return crossed * Math.sign(scale[a]) * Math.sign(scale[b]) < 0
}
