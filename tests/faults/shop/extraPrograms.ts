import { rampThereAndBack } from '../../../samples/make/cuts.ts'
import { end, insideRim, RAMP } from '../../../samples/make/operations.ts'
import type { Path } from '../../../samples/make/path.ts'
import { cavityZero } from './cavityPrograms.ts'
import { DEPTHS, type Design, WALL } from './design.ts'
import { HIGH, pinsOf, rimOf } from './places.ts'
import { start } from './start.ts'

/** Programs of what hands do besides. */
export function extraPrograms(design: Design): [string, string][] {
  const { extras } = design
  return [
    ...(extras?.pins ? [['pins.nc', pins(design)] as [string, string]] : []),
    ...(extras?.engraved
      ? ([
          ['rim.nc', groove(design, 'vee', insideRim(rimOf(design), -WALL / 2, 0), 0, 0.8)],
          ['lines.nc', groove(design, 'taper', insideRim(rimOf(design), 9, 2), DEPTHS.floor - design.thick, 0.4)],
        ] as [string, string][])
      : []),
  ]
}

/** Holes for pins: in a cycle where the machine has them, else by hand. */
function pins(design: Design): string {
  const writer = start(design, 'holes for the pins', 'drill', 'cavity', design.zero.offset)
  const z = (height: number) => writer.number(height - design.zero.offset)
  for (const [at, pin] of pinsOf(design).entries()) {
    // A cycle ends all motion: what comes after says its own again.
    writer.heading(`hole ${at + 1}`)
    writer.rapid(pin)
    if (design.extras?.dialect === 'compact') {
      for (const depth of [2, 4, 6, 8]) {
        writer.rapid({ z: depth === 2 ? 1 : 2.2 - depth })
        writer.line({ z: -depth, feed: 150 })
        writer.rapid({ z: 5 })
      }
    } else {
      const { x, y } = { x: writer.place.x, y: writer.place.y }
      if (Number.isNaN(x + y)) throw new Error('the bit is nowhere')
      const feed = Math.round(150 / (design.units.programs === 'inch' ? 25.4 : 1))
      writer.say(`G98 G83 Z${z(-8)} R${z(1)} Q${writer.number(2)} F${feed}`, 'G80')
    }
  }
  return end(writer, HIGH)
}

/** Once round along a path, `deep` under a surface that lies `under` the face. */
function groove(design: Design, bit: 'vee' | 'taper', path: Path, under: number, deep: number): string {
  const writer = start(design, `a groove with the ${bit}`, bit, 'cavity', cavityZero(design))
  writer.heading('once round')
  writer.rapid(path.start)
  writer.rapid({ z: under + 1 })
  writer.line({ z: under, feed: 150 })
  rampThereAndBack(writer, path, under - deep, RAMP, 500)
  writer.follow(path, 900)
  return end(writer, HIGH)
}
