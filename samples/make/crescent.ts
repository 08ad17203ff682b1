import { followRing, helix, levels, rampThereAndBack, ringsInside } from './cuts.ts'
import { fitArcs } from './fit.ts'
import { crescent } from './motifs.ts'
import { begin, clearLevel, end, insideRim, levelOff, RAMP } from './operations.ts'
import type { Path, Point } from './path.ts'
import { reversed } from './path.ts'
import { begunNear, mirrored, offsetOnly, shifted } from './shape.ts'
import type { Writer } from './writer.ts'

/** The tray is drawn in inches; everything below is mm. */
const inch = (value: number): number => value * 25.4

const TRAY = { width: inch(9), depth: inch(6), thickest: inch(0.88) }
const POCKET_DEPTH = inch(0.3)
const LEVELLED = inch(0.02)
const CAVITY_DEPTH = inch(0.63)
const CAVITY = { left: inch(0.8), near: inch(0.8), right: inch(8.2), far: inch(5.2), radius: inch(0.9) }
const WALL = inch(0.3)

const QUARTER = {
  radius: inch(0.125),
  pass: inch(0.1),
  pocketPass: inch(0.075),
  left: inch(0.01),
  step: inch(0.11),
  feed: inch(75),
  ramp: inch(40),
  finish: inch(60),
  down: inch(10),
}
const WIDE = { feed: inch(90) }
const BOWL = { radius: inch(0.5625), pass: inch(0.075), feed: inch(90), ramp: inch(45), finish: inch(75) }

/** The motif as seen from the top face: horns to the right. */
const CRESCENT = shifted(crescent(inch(1.35), inch(1.15), inch(0.62), inch(0.15)), inch(4.2), inch(3))

export function crescentTray(): Map<string, string> {
  return new Map([
    ['pocket.nc', pocket()],
    ['level.nc', level()],
    ['cavity.nc', cavity()],
    ['outline.nc', outline()],
  ])
}

function start(title: string, lie: string, bit: string, tool: number, high: number): Writer {
  const words = ['G20 G90 G17 G94', `T${tool} M6 (${bit})`, 'M3 (router on, dial at 16000)', 'G4 P5']
  return begin('inch', [`crescent tray: ${title}`, lie], words, high)
}

function pocket(): string {
  const writer = start(
    'pocket for the resin, mirrored',
    'underside up, turned sideways; X0 Y0 at the near-left corner as it lies, Z0 on the face',
    '1/4 in up-cut',
    1,
    inch(0.6),
  )
  const { radius, left, step } = QUARTER
  const wall = mirrored(CRESCENT, TRAY.width)
  const helixRadius = inch(0.09)
  // In the thickest part, which lies at the right now.
  const thick: Point = { x: TRAY.width - inch(3.21), y: inch(3) }
  const entry = { x: thick.x + helixRadius, y: thick.y }
  const [ring, ...others] = ringsInside(wall, radius + left, step, entry)
  if (others.length > 0) throw new Error('the pocket falls apart')
  const finish = fitArcs(begunNear(offsetOnly(wall, -radius), thick))
  const depths = levels(0, -POCKET_DEPTH, QUARTER.pocketPass)
  writer.heading('the pocket, level by level, the wall last on each')
  writer.rapid(entry)
  writer.rapid({ z: inch(0.04) })
  writer.line({ z: 0, feed: QUARTER.down })
  for (const [i, z] of depths.entries()) {
    writer.heading(`level ${i + 1} of ${depths.length}, Z${writer.number(z)}`)
    helix(writer, thick, helixRadius, z, QUARTER.pocketPass / 3, QUARTER.ramp, QUARTER.feed)
    followRing(writer, ring, QUARTER.feed)
    writer.line({ ...finish.start, feed: QUARTER.finish })
    writer.follow(finish)
    writer.line({ ...entry, feed: QUARTER.feed })
  }
  writer.rapid({ z: inch(0.2) })
  return end(writer, inch(0.6))
}

function level(): string {
  const writer = start(
    'level the cured resin',
    'underside up, turned sideways; X0 Y0 at the near-left corner as it lies, Z0 on the wood beside the resin',
    '1 in surfacing bit',
    2,
    inch(0.6),
  )
  levelOff(writer, {
    ...TRAY,
    depths: levels(0, -LEVELLED, LEVELLED / 2),
    edge: inch(0.2),
    past: inch(0.65),
    rows: 17,
    feed: WIDE.feed,
    down: inch(20),
    high: inch(0.2),
  })
  return end(writer, inch(0.6))
}

function cavity(): string {
  const writer = start(
    'cavity',
    'top face up against the same corner; X0 Y0 at the near-left corner, Z0 on the face',
    '1-1/8 in bowl bit, 1/4 in corner radius',
    3,
    inch(1),
  )
  const rough = inch(-0.6)
  const middle = TRAY.depth / 2
  const entry: Path = { start: { x: inch(4), y: middle }, steps: [{ to: { x: inch(5), y: middle } }] }
  const { radius: bitRadius, feed, ramp } = BOWL
  const floor = { rim: CAVITY, bitRadius, entry, leastCorner: inch(0.1), feed, ramp }

  writer.heading('rough the cavity, 0.03 left on the floor')
  writer.rapid(entry.start)
  writer.rapid({ z: inch(0.04) })
  writer.line({ z: 0, feed: inch(12) })
  const depths = levels(0, rough, BOWL.pass)
  for (const [i, z] of depths.entries()) {
    writer.heading(`level ${i + 1} of ${depths.length}, Z${writer.number(z)}`)
    clearLevel(writer, floor, z, [inch(1.1), inch(0.56), inch(0.02), 0])
    if (i < depths.length - 1) writer.line(entry.start)
  }

  writer.heading('finish the floor')
  writer.line(entry.start)
  clearLevel(writer, { ...floor, feed: BOWL.finish }, -CAVITY_DEPTH, [inch(1.2), inch(0.8), inch(0.4), 0])
  writer.rapid({ z: inch(0.2) })
  return end(writer, inch(1))
}

function outline(): string {
  const writer = start(
    'outline, down to a skin',
    'top face up against the same corner, on tape; X0 Y0 at the near-left corner, Z0 on the table',
    '1/4 in up-cut',
    1,
    inch(1.5),
  )
  const by = WALL + QUARTER.radius
  // Clockwise: the bit climbs round a piece that stays.
  const path = reversed(insideRim(CAVITY, -by, 0))
  const face = TRAY.thickest - LEVELLED
  const skin = inch(0.04)
  writer.heading('round the tray, from the thicker copy down; 0.04 stays for the saw')
  writer.rapid(path.start)
  writer.rapid({ z: face + inch(0.06) })
  writer.line({ z: face, feed: inch(15) })
  const depths = levels(face, skin, QUARTER.pass)
  for (const [i, z] of depths.entries()) {
    writer.heading(`level ${i + 1} of ${depths.length}, Z${writer.number(z)}`)
    rampThereAndBack(writer, path, z, RAMP, QUARTER.ramp)
    writer.follow(path, QUARTER.feed)
  }
  return end(writer, inch(1.5))
}
