import { z } from 'zod'

/** Larger than any bench; a number beyond it is a slip of the finger, not a measure. */
const LARGEST = 1e6

/** Any length in the sheet's units, negative ones too (positions, offsets). */
export const anyNumber = (about: string) => z.number().min(-LARGEST).max(LARGEST).describe(about)

/** A measure that must be more than nothing. */
export const positive = (about: string) => z.number().gt(0).max(LARGEST).describe(about)

/** A measure that may be nothing. */
export const notNegative = (about: string) => z.number().min(0).max(LARGEST).describe(about)

/** A share of a whole. */
export const fraction = (about: string) => z.number().min(0).max(1).describe(about)

/** A point: `[x, y]`. */
export const point = () => {
  const coordinate = z.number().min(-LARGEST).max(LARGEST)
  return z.tuple([coordinate, coordinate])
}

/** Least and most: `[least, most]`. */
export const span = (about: string) =>
  z.tuple([z.number().min(-LARGEST).max(LARGEST), z.number().min(-LARGEST).max(LARGEST)]).describe(about)

/** One number for each of X, Y and Z, all more than nothing. */
export const perAxis = (about: string) => {
  const axis = z.number().gt(0).max(LARGEST)
  return z.tuple([axis, axis, axis]).describe(about)
}
