import { followRing, helix, levels, rampThereAndBack, ringsInside, ringsRound, spiralDown } from './cuts.ts'
import { fitArcs } from './fit.ts'
import { fern } from './motifs.ts'
import { begin, clearLevel, end, insideRim, levelOff, RAMP } from './operations.ts'
import type { Path, Point } from './path.ts'
import { distance, reversed } from './path.ts'
import type { Outline } from './shape.ts'
import { begunNear, mirrored, nearestTo, offsetOnly, shifted } from './shape.ts'
import type { Writer } from './writer.ts'

/** Lengths in mm, speeds in rev/min, feeds in mm/min: the same as in `fern-dish.jobsheet.json`. */
const DISH = { width: 240, depth: 160 }
const GAP = 0.1
const POCKET_DEPTH = 7.5
const CARVED = 7.9
const LEVELLED = 0.6
const CAVITY_DEPTH = 18
const CAVITY = { left: 28, near: 20, right: 212, far: 140, radius: 24 }
const WALL = 8

/** The 4 mm bit of plug and pocket. */
const FINE = {
  radius: 2,
  pass: 1.6,
  pocketPass: 1.5,
  left: 0.25,
  step: 1.9,
  feed: 1200,
  ramp: 750,
  finish: 1000,
  down: 250,
}
const WIDE = { feed: 2200 }
const BOWL = { radius: 10, pass: 2.2, feed: 2000, ramp: 1000, finish: 1800 }
const OUTER = { radius: 3, feed: 1600, ramp: 900 }

/** The motif in the dish as seen from its top face, and in the plug's blank; the stem begins at the left. */
const FERN = fern(2.6, 2.5)
const FERN_IN_DISH = shifted(FERN, 111, 81)
const FERN_ON_PLUG_BLANK = shifted(FERN, 66, 46)
/** The pocket's wall as its blank lies, underside up, turned sideways. */
const POCKET_WALL = offsetOnly(mirrored(FERN_IN_DISH, DISH.width), GAP)

export function fernDish(): Map<string, string> {
  return new Map([
    ['plug.nc', plug()],
    ['pocket.nc', pocket()],
    ['level.nc', level()],
    ['cavity.nc', cavity()],
    ['outline.nc', outline()],
  ])
}

function start(title: string, lie: string, bit: string, speed: number, high: number): Writer {
  const comments = [`fern dish: ${title}`, lie, `in the spindle: ${bit}`]
  return begin('mm', comments, ['G21 G90 G17 G94', `M3 S${speed}`, 'G4 P4'], high)
}

function plug(): string {
  const writer = start(
    'the plug',
    'plug blank, best face up; X0 Y0 at the near-left corner, Z0 on the face',
    '4 mm down-cut',
    18000,
    15,
  )
  const beyondTheStem: Point = { x: 10, y: 40 }
  const { radius, left, step } = FINE
  const rings = ringsRound(
    FERN_ON_PLUG_BLANK,
    [radius + left + 2 * step, radius + left + step, radius + left],
    beyondTheStem,
  )
  const [outer, middle] = rings
  writer.heading('moat round the motif, from the outside in, 0.25 left on the wall')
  writer.rapid(outer.start)
  writer.rapid({ z: 1 })
  writer.line({ z: 0, feed: FINE.down })
  const depths = levels(0, -CARVED, FINE.pass)
  for (const [i, z] of depths.entries()) {
    writer.heading(`moat, level ${i + 1} of ${depths.length}, Z${writer.number(z)}`)
    rampThereAndBack(writer, outer, z, RAMP, FINE.ramp)
    for (const ring of rings) {
      writer.line(ring.start)
      writer.follow(ring, FINE.feed)
    }
    if (i < depths.length - 1) writer.line(outer.start)
  }
  writer.rapid({ z: 5 })

  finishWall(writer, ringsRound(FERN_ON_PLUG_BLANK, [radius], rings[2].start)[0], middle.start, depths)
  return end(writer, 15)
}

/** The wall in one long helix, a level a turn, and a level turn at its foot; then off the wall before going up. */
function finishWall(writer: Writer, wall: Path, clear: Point, depths: readonly number[]): void {
  writer.heading('finish the wall, down in a long helix')
  writer.rapid(wall.start)
  writer.rapid({ z: 1 })
  writer.line({ z: 0, feed: FINE.down })
  for (const [i, z] of depths.entries()) {
    writer.heading(`wall, turn ${i + 1}, down to Z${writer.number(z)}`)
    spiralDown(writer, wall, z, FINE.finish)
  }
  writer.heading('wall, once more, level')
  writer.follow(wall)
  writer.line(clear)
  writer.rapid({ z: 5 })
}

function pocket(): string {
  const writer = start(
    'pocket for the plug, mirrored',
    'dish blank, underside up, turned sideways; X0 Y0 at the near-left corner as it lies, Z0 on the face',
    '4 mm down-cut',
    18000,
    15,
  )
  const { radius, left, step } = FINE
  const helixRadius = 1.5
  // In the foot of the stem, which lies at the right now.
  const foot: Point = { x: DISH.width - (111 - 38.7), y: 81 - 8.4 }
  assertRoom(POCKET_WALL, foot, helixRadius + radius + left / 2)
  const entry = { x: foot.x + helixRadius, y: foot.y }
  const [ring, ...others] = ringsInside(POCKET_WALL, radius + left, step, entry)
  if (others.length > 0) throw new Error('the pocket falls apart')
  const depths = levels(0, -POCKET_DEPTH, FINE.pocketPass)
  writer.heading('rough the pocket, 0.25 left on the wall')
  writer.rapid(entry)
  writer.rapid({ z: 1 })
  writer.line({ z: 0, feed: FINE.down })
  for (const [i, z] of depths.entries()) {
    writer.heading(`pocket, level ${i + 1} of ${depths.length}, Z${writer.number(z)}`)
    helix(writer, foot, helixRadius, z, FINE.pocketPass / 4, FINE.ramp, FINE.feed)
    followRing(writer, ring, FINE.feed)
    writer.line(entry)
  }
  writer.rapid({ z: 5 })

  finishWall(writer, fitArcs(begunNear(offsetOnly(POCKET_WALL, -radius), foot)), foot, depths)
  return end(writer, 15)
}

function assertRoom(wall: Outline, at: Point, room: number): void {
  const free = distance(at, wall[nearestTo(wall, at)])
  if (free < room) throw new Error(`only ${free.toFixed(2)} mm to the wall where ${room} mm are needed`)
}

function level(): string {
  const writer = start(
    'level the glued plug',
    'dish blank, underside up, turned sideways; X0 Y0 at the near-left corner as it lies, Z0 on the wood beside the plug',
    '25 mm surfacing bit',
    14000,
    15,
  )
  levelOff(writer, {
    ...DISH,
    depths: levels(0, -LEVELLED, 0.2),
    edge: 5,
    past: 16,
    rows: 13,
    feed: WIDE.feed,
    down: 400,
    high: 5,
  })
  return end(writer, 15)
}

function cavity(): string {
  const writer = start(
    'cavity',
    'dish blank, top face up, on the pins; X0 Y0 at the near-left corner, Z0 on the face',
    '20 mm bowl bit, 5 mm corner radius',
    16000,
    25,
  )
  const rough = -17.6
  const leftOnWall = 0.4
  const entry: Path = { start: { x: 107, y: 80 }, steps: [{ to: { x: 133, y: 80 } }] }
  const floor = { rim: CAVITY, bitRadius: BOWL.radius, entry, leastCorner: 2, feed: BOWL.feed, ramp: BOWL.ramp }

  writer.heading('rough the cavity, 0.4 left on wall and floor')
  writer.rapid(entry.start)
  writer.rapid({ z: 1 })
  writer.line({ z: 0, feed: 300 })
  const depths = levels(0, rough, BOWL.pass)
  for (const [i, z] of depths.entries()) {
    writer.heading(`cavity, level ${i + 1} of ${depths.length}, Z${writer.number(z)}`)
    clearLevel(writer, floor, z, [40.4, 30.4, 20.4, 10.4, leftOnWall])
    if (i < depths.length - 1) writer.line(entry.start)
  }
  writer.rapid({ z: 5 })

  const wall = insideRim(CAVITY, BOWL.radius, 2)
  writer.heading('finish the wall, down in a long helix')
  writer.rapid(wall.start)
  writer.rapid({ z: 1 })
  writer.line({ z: 0, feed: 300 })
  for (const z of depths) spiralDown(writer, wall, z, BOWL.finish)
  writer.follow(wall)
  writer.rapid({ z: 5 })

  writer.heading('finish the floor')
  writer.rapid(entry.start)
  writer.rapid({ z: rough + 1 })
  writer.line({ z: rough + 0.2, feed: 300 })
  clearLevel(writer, { ...floor, feed: BOWL.finish }, -CAVITY_DEPTH, [45, 37.5, 30, 22.5, 15, 7.5, 0])
  return end(writer, 25)
}

function outline(): string {
  const writer = start(
    'outline with four tabs',
    'dish blank, top face up, on the pins; X0 Y0 at the near-left corner, Z0 on the table',
    '6 mm up-cut',
    16000,
    40,
  )
  const by = WALL + OUTER.radius
  // Clockwise: the bit climbs round a piece that stays.
  const path = reversed(insideRim(CAVITY, -by, 0))
  // Higher than any blank that was planed, less what was levelled off.
  const top = 25
  const through = -0.2
  const depths = levels(top, through, 2.6)
  writer.heading('round the dish')
  writer.rapid(path.start)
  writer.rapid({ z: top + 1.5 })
  writer.line({ z: top, feed: 400 })
  for (const [i, z] of depths.entries()) {
    const tabs = z < TAB.top
    writer.heading(`outline, level ${i + 1} of ${depths.length}, Z${writer.number(z)}${tabs ? ', with tabs' : ''}`)
    rampThereAndBack(writer, path, z, RAMP, OUTER.ramp)
    let from = path.start
    for (const step of path.steps) {
      const alongX = !step.arc && step.to.y === from.y
      if (tabs && alongX) withTabs(writer, from, step.to, z)
      else writer.step(step, { feed: OUTER.feed })
      from = step.to
    }
  }
  return end(writer, 40)
}

/** Tabs that stand on the long sides: middle of each, height, length of the flat run over them and of each ramp. */
const TAB = { at: [80, 160], top: 3, flat: 14, slope: 14 }

function withTabs(writer: Writer, from: Point, to: Point, z: number): void {
  const sign = Math.sign(to.x - from.x)
  const middles = [...TAB.at].sort((a, b) => sign * (a - b))
  for (const x of middles) {
    writer.line({ x: x - sign * (TAB.flat / 2 + TAB.slope), feed: OUTER.feed })
    writer.line({ x: x - (sign * TAB.flat) / 2, z: TAB.top })
    writer.line({ x: x + (sign * TAB.flat) / 2 })
    writer.line({ x: x + sign * (TAB.flat / 2 + TAB.slope), z })
  }
  writer.line(to)
}
