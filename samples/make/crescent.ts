import { followRing, helix, levels, rampThereAndBack, ringsInside } from './cuts.ts'
import { fitArcs } from './fit.ts'
import { crescent } from './motifs.ts'
import type { Path, Point } from './path.ts'
import { reversed, roundedRectangle } from './path.ts'
import { begunNear, mirrored, offsetOnly, shifted } from './shape.ts'
import { Writer } from './writer.ts'

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
const WIDE = { radius: inch(0.5), feed: inch(90) }
const BOWL = { radius: inch(0.5625), pass: inch(0.075), feed: inch(90), ramp: inch(45), finish: inch(75) }
const RAMP = 2.5

/** The motif as seen from the top face: horns to the right. */
export const CRESCENT = shifted(crescent(inch(1.35), inch(1.15), inch(0.62), inch(0.15)), inch(4.2), inch(3))

export function crescentTray(): Map<string, string> {
  return new Map([
    ['pocket.nc', pocket()],
    ['level.nc', level()],
    ['cavity.nc', cavity()],
    ['outline.nc', outline()],
  ])
}

function begin(title: string, lie: string, bit: string, tool: number, high: number): Writer {
  const writer = new Writer('inch')
  writer.say(`(crescent tray: ${title})`, `(${lie})`, '', 'G20 G90 G17 G94', `T${tool} M6 (${bit})`)
  writer.say('M3 (router on, dial at 16000)', 'G4 P5')
  writer.rapid({ z: high })
  return writer
}

function end(writer: Writer, high: number): string {
  writer.heading('up and off')
  writer.rapid({ z: high })
  writer.say('M5', 'M30')
  return writer.text
}

const number = (mm: number): string => String(Number((mm / 25.4).toFixed(4)))

function pocket(): string {
  const writer = begin(
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
    writer.heading(`level ${i + 1} of ${depths.length}, Z${number(z)}`)
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
  const writer = begin(
    'level the cured resin',
    'underside up, turned sideways; X0 Y0 at the near-left corner as it lies, Z0 on the wood beside the resin',
    '1 in surfacing bit',
    2,
    inch(0.6),
  )
  const edge = inch(0.2)
  const past = inch(0.65)
  const depths = levels(0, -LEVELLED, LEVELLED / 2)
  for (const [i, z] of depths.entries()) {
    writer.heading(`pass ${i + 1} of ${depths.length}: once round the edge, Z${number(z)}`)
    writer.rapid({ x: -past, y: edge })
    writer.line({ z, feed: inch(20) })
    writer.line({ x: TRAY.width - edge, feed: WIDE.feed })
    writer.line({ y: TRAY.depth - edge })
    writer.line({ x: edge })
    writer.line({ y: -past })
    writer.heading(`pass ${i + 1} of ${depths.length}: to and fro`)
    writer.line({ x: -past })
    const rows = 17
    for (let row = 0; row < rows; row++) {
      writer.line({ y: edge + ((TRAY.depth - 2 * edge) * row) / (rows - 1) })
      writer.line({ x: row % 2 === 0 ? TRAY.width + past : -past })
    }
    writer.rapid({ z: inch(0.2) })
  }
  return end(writer, inch(0.6))
}

function cavityRing(inset: number): Path {
  const { left, near, right, far, radius } = CAVITY
  const by = BOWL.radius + inset
  return roundedRectangle(left + by, near + by, right - by, far - by, Math.max(radius - by, inch(0.1)))
}

function cavity(): string {
  const writer = begin(
    'cavity',
    'top face up against the same corner; X0 Y0 at the near-left corner, Z0 on the face',
    '1-1/8 in bowl bit, 1/4 in corner radius',
    3,
    inch(1),
  )
  const rough = inch(-0.6)
  const middle = TRAY.depth / 2
  const half = middle - CAVITY.near - BOWL.radius
  const line = { from: CAVITY.left + BOWL.radius + half, to: CAVITY.right - BOWL.radius - half }
  const entry: Path = { start: { x: inch(4), y: middle }, steps: [{ to: { x: inch(5), y: middle } }] }

  const floorBetween = (feed: number, z: number, insets: readonly number[]): void => {
    rampThereAndBack(writer, entry, z, RAMP, BOWL.ramp)
    writer.line({ x: line.from, feed })
    writer.line({ x: line.to })
    for (const inset of insets) {
      const ring = cavityRing(inset)
      writer.line(ring.start)
      writer.follow(ring)
    }
  }

  writer.heading('rough the cavity, 0.03 left on the floor')
  writer.rapid(entry.start)
  writer.rapid({ z: inch(0.04) })
  writer.line({ z: 0, feed: inch(12) })
  const depths = levels(0, rough, BOWL.pass)
  for (const [i, z] of depths.entries()) {
    writer.heading(`level ${i + 1} of ${depths.length}, Z${number(z)}`)
    floorBetween(BOWL.feed, z, [inch(1.1), inch(0.56), inch(0.02), 0])
    if (i < depths.length - 1) writer.line(entry.start)
  }

  writer.heading('finish the floor')
  writer.line(entry.start)
  floorBetween(BOWL.finish, -CAVITY_DEPTH, [inch(1.2), inch(0.8), inch(0.4), 0])
  writer.rapid({ z: inch(0.2) })
  return end(writer, inch(1))
}

function outline(): string {
  const writer = begin(
    'outline, down to a skin',
    'top face up against the same corner, on tape; X0 Y0 at the near-left corner, Z0 on the table',
    '1/4 in up-cut',
    1,
    inch(1.5),
  )
  const by = WALL + QUARTER.radius
  const { left, near, right, far, radius } = CAVITY
  // Clockwise: the bit climbs round a piece that stays.
  const path = reversed(roundedRectangle(left - by, near - by, right + by, far + by, radius + by))
  const face = TRAY.thickest - LEVELLED
  const skin = inch(0.04)
  writer.heading('round the tray, from the thicker copy down; 0.04 stays for the saw')
  writer.rapid(path.start)
  writer.rapid({ z: face + inch(0.06) })
  writer.line({ z: face, feed: inch(15) })
  const depths = levels(face, skin, QUARTER.pass)
  for (const [i, z] of depths.entries()) {
    writer.heading(`level ${i + 1} of ${depths.length}, Z${number(z)}`)
    rampThereAndBack(writer, path, z, RAMP, QUARTER.ramp)
    writer.follow(path, QUARTER.feed)
  }
  return end(writer, inch(1.5))
}
