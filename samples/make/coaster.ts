import { helix, levels, rampThereAndBack } from './cuts.ts'
import { begin, end, RAMP } from './operations.ts'
import { circle } from './path.ts'
import type { Writer } from './writer.ts'

const CENTRE = { x: 60, y: 60 }
const BIT = { radius: 3, feed: 1900, ramp: 900, finish: 1600, down: 300 }
const RECESS = { radius: 41, depth: 3 }
const OUTSIDE = 50
const SKIN = 0.5
const THICK = 12

/** One program without a sheet: a round coaster with a recess for a cork disc. */
export function coaster(): Map<string, string> {
  const comments = [
    'coaster with a recess for a cork disc',
    'blank: 120 x 120 x 12 mm, zero near-left face',
    'bit 1: flat 6 mm, 2 flutes, cutting length 22, chip load 0.05-0.12',
  ]
  const writer = begin('mm', comments, ['G21 G90 G17 G94', 'T1 M6', 'M3 S16000', 'G4 P3'], 15)
  recess(writer)
  grooves(writer)
  outline(writer)
  return new Map([['coaster.nc', end(writer, 15)]])
}

function recess(writer: Writer): void {
  const first = 2.5
  const widest = RECESS.radius - BIT.radius
  writer.heading('recess: helix in, then rings outwards')
  writer.rapid({ x: CENTRE.x + first, y: CENTRE.y })
  writer.rapid({ z: 1 })
  writer.line({ z: 0, feed: BIT.down })
  for (const z of levels(0, -RECESS.depth, 1.5)) {
    writer.heading(`recess, Z${z}`)
    helix(writer, CENTRE, first, z, 0.5, BIT.ramp, BIT.feed)
    for (let r = first + 4; r < widest - 0.3; r += 4) ring(writer, r, BIT.feed)
    ring(writer, widest - 0.3, BIT.feed)
    ring(writer, widest, BIT.finish)
    writer.line({ x: CENTRE.x + first, y: CENTRE.y, feed: BIT.feed })
  }
  writer.rapid({ z: 5 })
}

function ring(writer: Writer, radius: number, feed: number): void {
  const path = circle(CENTRE, radius, true)
  writer.line({ ...path.start, feed })
  writer.follow(path)
}

/** Three channels through the rim, so that a wet cup lets go. */
function grooves(writer: Writer): void {
  for (const [i, degrees] of [90, 210, 330].entries()) {
    const a = (degrees * Math.PI) / 180
    const along = (r: number): { x: number; y: number } => ({
      x: CENTRE.x + r * Math.cos(a),
      y: CENTRE.y + r * Math.sin(a),
    })
    writer.heading(`channel ${i + 1} of 3 through the rim`)
    writer.rapid(along(36))
    writer.rapid({ z: 1 })
    writer.line({ z: -1, feed: BIT.down })
    writer.line({ ...along(OUTSIDE + 4), feed: BIT.feed })
    writer.line(along(36))
    writer.rapid({ z: 5 })
  }
}

function outline(writer: Writer): void {
  const path = circle(CENTRE, OUTSIDE + BIT.radius, false)
  writer.heading(`outline, down to a skin of ${SKIN}`)
  writer.rapid(path.start)
  writer.rapid({ z: 1 })
  writer.line({ z: 0, feed: BIT.down })
  for (const z of levels(0, SKIN - THICK, 2)) {
    writer.heading(`outline, Z${z}`)
    rampThereAndBack(writer, path, z, RAMP, BIT.ramp)
    writer.follow(path, BIT.feed)
  }
}
