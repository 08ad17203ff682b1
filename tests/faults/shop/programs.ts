import {
  followRing,
  helix,
  levels,
  rampThereAndBack,
  ringsInside,
  ringsRound,
  spiralDown,
} from '../../../samples/make/cuts.ts'
import { fitArcs } from '../../../samples/make/fit.ts'
import { end, insideRim, levelOff, RAMP } from '../../../samples/make/operations.ts'
import type { Path, Point } from '../../../samples/make/path.ts'
import { circle, reversed } from '../../../samples/make/path.ts'
import type { Outline } from '../../../samples/make/shape.ts'
import { begunNear, offsetOnly, shifted } from '../../../samples/make/shape.ts'
import type { Writer } from '../../../samples/make/writer.ts'
import { cavity, cavityZero, rough } from './cavityPrograms.ts'
import { DEPTHS, type Design, OUTER_RADIUS, SURFACING_RADIUS, WALL } from './design.ts'
import { extraPrograms } from './extraPrograms.ts'
import { written } from './hands.ts'
import { HIGH, motifAt, PLUG_BLANK, rimOf } from './places.ts'
import { start } from './start.ts'

const FINE = { pass: 1.5, left: 0.2, feed: 1000, ramp: 600, finish: 900, down: 250 }

/** The programs of a design, by file name. */
export function programsOf(design: Design): Map<string, string> {
  const programs = new Map([
    ['pocket.nc', pocket(design)],
    ['level.nc', level(design)],
    ['cavity.nc', cavity(design)],
    ['outline.nc', outline(design)],
    ...extraPrograms(design),
  ])
  if (!design.resin) programs.set('plug.nc', plug(design))
  if (design.rough === 'program') programs.set('rough.nc', rough(design))
  return new Map([...programs].map(([name, text]) => [name, written(text, design.hand)]))
}

function plug(design: Design): string {
  const writer = start(design, 'the plug', 'fine', 'plug', 0)
  const radius = design.fineDiameter / 2
  const step = radius * 0.9
  const depths = levels(0, -DEPTHS.carved, FINE.pass)
  for (const part of design.parts) {
    const wall = shifted(part.outline, PLUG_BLANK / 2, PLUG_BLANK / 2)
    const centre = { x: part.entry.x + PLUG_BLANK / 2, y: part.entry.y + PLUG_BLANK / 2 }
    const away = [radius + FINE.left + 2 * step, radius + FINE.left + step, radius + FINE.left]
    const rings = ringsRound(wall, away, { x: 5, y: 30 })
    const [outer, middle] = rings
    approach(writer, outer.start, 'moat, from the outside in')
    for (const [i, z] of depths.entries()) {
      writer.heading(`moat, level ${i + 1} of ${depths.length}`)
      rampThereAndBack(writer, outer, z, RAMP, FINE.ramp)
      for (const ring of rings) {
        writer.line(ring.start)
        writer.follow(ring, FINE.feed)
      }
      if (i < depths.length - 1) writer.line(outer.start)
    }
    writer.rapid({ z: 5 })
    finishWall(writer, ringsRound(wall, [radius], rings[2].start)[0], middle.start, depths)
    if (part.hole !== undefined) annulus(writer, centre, radius, 0.8, part.hole - radius, depths)
  }
  return end(writer, HIGH)
}

function approach(writer: Writer, at: Point, title: string): void {
  writer.heading(title)
  writer.rapid(at)
  writer.rapid({ z: 1 })
  writer.line({ z: 0, feed: FINE.down })
}

/** The wall in one long helix, a level a turn, and a level turn at its foot; then off the wall before going up. */
function finishWall(writer: Writer, wall: Path, clear: Point, depths: readonly number[]): void {
  approach(writer, wall.start, 'finish the wall')
  for (const z of depths) spiralDown(writer, wall, z, FINE.finish)
  writer.heading('wall, once more, level')
  writer.follow(wall)
  writer.line(clear)
  writer.rapid({ z: 5 })
}

/** Rings about a centre, from the innermost to the outermost radius of the bit's centre, level by level. */
function annulus(
  writer: Writer,
  centre: Point,
  bit: number,
  inner: number,
  outer: number,
  depths: readonly number[],
): void {
  const count = Math.max(2, Math.ceil((outer - inner) / (bit * 0.9)) + 1)
  approach(writer, { x: centre.x + inner, y: centre.y }, 'rings from the inside out')
  for (const z of depths) {
    writer.heading('helix down, then out')
    const pitch = 2 * Math.PI * inner * Math.tan((RAMP * Math.PI) / 180)
    helix(writer, centre, inner, z, pitch, FINE.ramp, FINE.feed)
    for (let k = 1; k < count; k++) {
      const ring = circle(centre, inner + ((outer - inner) * k) / (count - 1), true)
      writer.line({ ...ring.start, feed: FINE.feed })
      writer.follow(ring)
    }
    writer.line({ x: centre.x + inner, y: centre.y })
  }
  writer.rapid({ z: 5 })
}

/** A point of the top as it lies with the underside up. */
function turned(design: Design): (p: Point) => Point {
  if (design.unturned) return p => p
  return design.turn === 'sideways'
    ? p => ({ x: design.width - p.x, y: p.y })
    : p => ({ x: p.x, y: design.depth - p.y })
}

function pocket(design: Design): string {
  const pocketZero = design.zero.pocketOnBed ? -design.thick : design.zero.offset
  const writer = start(design, 'pocket, mirrored', 'fine', 'pocket', pocketZero)
  const radius = design.fineDiameter / 2
  const depths = levels(0, -DEPTHS.pocket, FINE.pass)
  const { x, y } = motifAt(design)
  const turn = turned(design)
  for (const part of design.parts) {
    const points = offsetOnly(shifted(part.outline, x, y), design.gap).map(turn)
    const wall: Outline = design.unturned ? points : points.reverse()
    const centre = turn({ x: part.entry.x + x, y: part.entry.y + y })
    if (part.hole !== undefined) {
      const outer = Math.max(...part.outline.map(p => Math.hypot(p.x - part.entry.x, p.y - part.entry.y)))
      annulus(writer, centre, radius, part.hole - design.gap + radius, outer + design.gap - radius, depths)
      continue
    }
    const entry = { x: centre.x + 1.4, y: centre.y }
    const [ring, ...others] = ringsInside(wall, radius + FINE.left, radius * 0.9, entry)
    if (others.length > 0) throw new Error('the pocket falls apart')
    approach(writer, entry, 'rough the pocket')
    for (const [i, z] of depths.entries()) {
      writer.heading(`pocket, level ${i + 1} of ${depths.length}`)
      helix(writer, centre, 1.4, z, FINE.pass / 4, FINE.ramp, FINE.feed)
      followRing(writer, ring, FINE.feed)
      writer.line(entry)
    }
    writer.rapid({ z: 5 })
    finishWall(writer, fitArcs(begunNear(offsetOnly(wall, -radius), centre)), centre, depths)
  }
  return end(writer, HIGH)
}

function level(design: Design): string {
  const writer = start(design, 'level the underside', 'surfacing', 'level', design.zero.offset)
  levelOff(writer, {
    width: design.width,
    depth: design.depth,
    depths: levels(0, -DEPTHS.level, 0.3),
    edge: 4,
    past: SURFACING_RADIUS + 3,
    rows: Math.ceil((design.depth - 8) / 13) + 1,
    feed: 2000,
    down: 400,
    high: 5,
  })
  return end(writer, HIGH)
}

function outline(design: Design): string {
  const face = design.thick - DEPTHS.level
  const z0 = design.zero.kept ? cavityZero(design) : -face
  const writer = start(design, 'outline, down to a skin', 'outer', 'outline', z0)
  const path = reversed(insideRim(rimOf(design), -(WALL + OUTER_RADIUS), 0))
  writer.heading('round the dish; a skin stays for the saw')
  writer.rapid(path.start)
  writer.rapid({ z: 1.5 })
  writer.line({ z: 0, feed: 250 })
  for (const z of levels(0, DEPTHS.skin - face, 2.5)) {
    writer.heading('once round')
    rampThereAndBack(writer, path, z, RAMP, 900)
    writer.follow(path, 1500)
  }
  return end(writer, HIGH)
}
