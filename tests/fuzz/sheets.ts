import type { Chance } from '../faults/random.ts'
import { SMALL_SHEET } from '../job/workedExample.ts'
import { mutated } from './programs.ts'

type Json = null | boolean | number | string | Json[] | { [key: string]: Json }

const odd: readonly Json[] = [
  ...[null, true, false, 0, -0, -1, 1, 0.001, 1e9, 1e308, -1e308, 5e-324, 24, 90, '', ' ', '1', 'top', 'underside'],
  ...['plug.nc', '../../outside.nc', '/etc/passwd', 'C:\\x.nc', 'http://x/y.nc', '\u0000', 'a'.repeat(5000), '<b>"\'&'],
  ...[
    '__proto__',
    'constructor',
    'no.nc',
    '.',
    '..',
    'plug',
    'pocket',
    'resin',
    'flat',
    'bowl',
    'vee',
    'taper',
    'kept',
  ],
  ...[[], {}, [[]], [null], [1], [1, 2], [1, 2, 3], [-1, -2, -3], { x: 1 }, [0, 0, 0, 0, 0, 0]],
]
const names = ['__proto__', 'constructor', 'toString', 'hasOwnProperty', '', 'A', '1', 'bits', 'size', 'name', 'copies']

/** A sheet that was right once, with some fields gone, doubled, renamed, or holding what they cannot. */
export function randomSheet(chance: Chance): string {
  const rich: Json = {
    ...(structuredClone(SMALL_SHEET) as unknown as { [key: string]: Json }),
    units: 'mm',
    limits: { floor: 4, wall: 5, clearance: [0.05, 0.15] },
    tolerances: { thickness: 0.2 },
    machine: { dialect: 'rs274ngc', travel: [600, 400, 90], spindle: { min: 8000, max: 24000 } },
    keepOut: [
      {
        setup: 'cavity',
        box: [
          [0, 60],
          [15, 80],
        ],
        height: 12,
      },
    ],
  }
  let value: Json = rich
  for (let count = chance.below(6); count > 0; count--) value = changed(chance, value)
  let text = JSON.stringify(value, null, chance.below(3))
  // What JSON.stringify leaves out of an object literal.
  if (chance.below(4) === 0) text = text.replace('{', '{ "__proto__": { "bits": 1 }, ')
  return chance.below(3) === 0 ? mutated(chance, text, 4) : text
}

function changed(chance: Chance, value: Json): Json {
  if (typeof value !== 'object' || value === null || chance.below(8) === 0) return chance.pick(odd)
  if (Array.isArray(value)) {
    if (value.length === 0) return [chance.pick(odd)]
    const at = chance.below(value.length)
    switch (chance.below(4)) {
      case 0:
        return value.toSpliced(at, 1)
      case 1:
        return value.toSpliced(at, 0, structuredClone(value[at]))
      case 2:
        return value.toReversed()
      default:
        return value.with(at, changed(chance, value[at]))
    }
  }
  const keys = Object.keys(value)
  const key = keys.length > 0 ? chance.pick(keys) : 'x'
  switch (chance.below(6)) {
    case 0: {
      const { [key]: _, ...others } = value
      return others
    }
    case 1:
      return { ...value, [chance.pick(names)]: chance.pick(odd) }
    case 2: {
      const { [key]: moved, ...others } = value
      return { ...others, [chance.pick(names)]: moved ?? null }
    }
    default:
      return { ...value, [key]: changed(chance, value[key] ?? null) }
  }
}
