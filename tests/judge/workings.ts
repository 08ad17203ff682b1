import type { Field } from './field.ts'
import { type CopyTrial, lay, pocketCells, type Stage, type Trial, type TrialBit } from './trial.ts'
import { contact, underside } from './wood.ts'

/** How the work goes and what it leaves: what no single motion shows. Each with a margin, so that none is a guess. */

interface Finding {
  readonly what: string
  readonly line?: number
}

export function workingsOf(trial: Trial, copy: CopyTrial, stage: Stage): Finding[] {
  return [
    ...overPower(trial, stage),
    ...oddLevels(trial, stage).map(line => ({ what: 'odd step', line })),
    ...ontoFloor(trial, copy, stage).map(line => ({ what: 'plunge onto the floor', line })),
    ...liesBadly(trial, stage),
    ...rubbing(trial, stage).map(line => ({ what: 'shank rubs', line })),
  ]
}

/** J/mm³ of hardwood made chips: an estimate from memory, no source; the middle of what is told. */
const CHIPPING = 0.06
/** An estimate is only held against the spindle with this much to spare. */
const SPARE = 1.1

function overPower({ sheet, bits }: Trial, stage: Stage): Finding[] {
  const { power } = sheet.machine.spindle
  if (power === undefined) return []
  return stage.facts.flatMap(fact => {
    const bit = bits.get(String(fact.step.tool))
    if (!bit || fact.rapid || fact.step.feed === undefined || fact.bite <= contact + 0.01) return []
    // What a short move takes is known, but not how fast.
    if (!(fact.length > bit.diameter)) return []
    const watts = (fact.volume / fact.length) * (fact.step.feed / 60) * CHIPPING
    return watts > SPARE * power ? [{ what: 'more than the spindle has', line: fact.line }] : []
  })
}

interface Level {
  readonly z: number
  readonly line: number
  readonly wide: number
  length: number
  cuts: boolean
}

/** Level work at one height after the other; a link shorter than two diameters is none. */
function levelsOf(stage: Stage, bits: ReadonlyMap<string, TrialBit>): Level[] {
  const levels: Level[] = []
  for (const fact of stage.facts) {
    const { step } = fact
    const z = step.to[2]
    if (fact.rapid || z === undefined || fact.down || fact.lengthXY < 1e-6) continue
    if (step.from[2] === undefined || Math.abs(z - step.from[2]) > 1e-6) continue
    let level = levels.at(-1)
    if (!level || Math.abs(level.z - z) > 0.005) {
      level = { z, line: fact.line, wide: bits.get(String(step.tool))?.diameter ?? 0, length: 0, cuts: false }
      levels.push(level)
    }
    level.length += fact.lengthXY
    if (fact.bite > contact + 0.01) level.cuts = true
  }
  return levels.filter(level => level.length > 2.2 * level.wide)
}

/** Steps down three times the middle one of the others on the same way; levels back up that cut nothing. */
function oddLevels({ bits }: Trial, stage: Stage): number[] {
  const levels = levelsOf(stage, bits)
  const odd: number[] = []
  let way: Level[] = []
  const close = (): void => {
    const steps = way.slice(1).map((level, k) => ({ line: level.line, step: way[k].z - level.z }))
    for (const own of steps) {
      const others = steps.filter(other => other !== own).map(other => other.step)
      others.sort((a, b) => a - b)
      if (others.length < 3) continue
      const middle = (others[(others.length - 1) >> 1] + others[others.length >> 1]) / 2
      if (own.step > 3.05 * middle) odd.push(own.line)
    }
    way = []
  }
  for (const level of levels) {
    if (!level.cuts) continue
    if (way.length > 0 && level.z >= way[way.length - 1].z) close()
    way.push(level)
  }
  close()
  for (let k = 1; k + 1 < levels.length; k++) {
    const [before, own, after] = [levels[k - 1], levels[k], levels[k + 1]]
    const isBack = own.z > before.z + 0.01 && after.z < before.z && own.z + stage.shift[2] < stage.face - 0.05
    if (isBack && !own.cuts && before.cuts && after.cuts && own.length > 0.6 * before.length) odd.push(own.line)
  }
  return odd
}

/** Straight descents whose tip ends in a surface that is there, under it and beside it, when all is done. */
function ontoFloor({ bits }: Trial, copy: CopyTrial, stage: Stage): number[] {
  if (stage.setup.makes === 'plug') return []
  const wood = copy.woods.get(stage.setup.blank)
  const thick = copy.thick.get(stage.setup.blank)
  if (!wood || thick === undefined) return []
  const end = lay(wood, stage.setup, thick)
  const isFloor = (x: number, y: number, z: number): boolean => {
    const [i, j] = [Math.floor(x / end.cell), Math.floor(y / end.cell)]
    return i >= 0 && j >= 0 && i < end.nx && j < end.ny && Math.abs(end.top(j * end.nx + i) - z) < 0.02
  }
  return stage.facts.flatMap(({ step, rapid, lengthXY, down, line, bite }) => {
    const [x, y, z] = step.to.map((v, k) => (v ?? Number.NaN) + stage.shift[k])
    if (rapid || !down || lengthXY > 1e-6 || bite <= contact + 0.01 || !isFloor(x, y, z)) return []
    const radius = (bits.get(String(step.tool))?.diameter ?? 0) / 2 + 2 * end.cell
    // Not at one place by chance: on a good part of the circle about the mark.
    let beside = 0
    for (let k = 0; k < 16; k++) {
      const angle = (k * Math.PI) / 8
      if (isFloor(x + radius * Math.cos(angle), y + radius * Math.sin(angle), z)) beside++
    }
    return beside >= 6 ? [line] : []
  })
}

/** Gives that much and still lies on the table, mm: common practice, no source. */
const GIVES = 0.5

/** The blank stands on an insert that is proud of its face, or is cut where nothing lies under it. */
function liesBadly({ bits }: Trial, { before, after, facts }: Stage): Finding[] {
  let [wood, insert] = [Infinity, Infinity]
  for (let index = 0; index < before.hi.length; index++) {
    if (before.hi[index] > before.lo[index]) wood = Math.min(wood, before.lo[index])
    if (before.insertHi[index] > before.insertLo[index]) insert = Math.min(insert, before.insertLo[index])
  }
  if (wood - insert > 0.08) return [{ what: 'stands on its insert' }]
  const bed = Math.min(wood, insert)
  let hollow = 0
  for (let index = 0; index < before.hi.length; index++) {
    const bottom = before.bottom(index)
    if (Number.isFinite(bottom) && bottom - bed > GIVES + 0.05 && before.top(index) - after.top(index) > 0.1) hollow++
  }
  const widest = facts.reduce((most, { step }) => Math.max(most, bits.get(String(step.tool))?.diameter ?? 0), 0)
  return hollow * before.cell ** 2 > 3 * widest ** 2 ? [{ what: 'cut over a hollow' }] : []
}

/**
 * Under the plug a part of the pocket is deeper than the rest by more than the room that may be there, and stays covered
 * when all is done.
 */
export function hollowBeneath(copy: CopyTrial, pocket: Stage, glue: number, room: number): boolean {
  const end = copy.woods.get(pocket.setup.blank)
  const thick = copy.thick.get(pocket.setup.blank)
  if (!end || thick === undefined) return false
  const done: Field = lay(end, pocket.setup, thick)
  const { after } = pocket
  const inside = pocketCells(pocket)
  const floors = inside.flatMap((own, index) => (own ? [after.top(index)] : [])).sort((a, b) => a - b)
  // The plug comes to rest on the highest floor of some size.
  const rest = floors[Math.floor(0.9 * floors.length)]
  let deep = 0
  inside.forEach((own, index) => {
    if (!own || rest + glue - after.top(index) < room + 0.1) return
    // Cells at the wall belong half to it.
    if ([1, -1, after.nx, -after.nx].some(by => !inside[index + by] || !inside[index + 2 * by])) return
    const isCovered = done.insertHi[index] > done.insertLo[index] && done.hi[index] > done.lo[index]
    if (isCovered) deep++
  })
  return deep * after.cell ** 2 > 25
}

/** So far outside the bit's edge a wall is looked for, mm. */
const BESIDE = 0.02

/**
 * Level moves deeper than the flutes are long along a wall that still stands: whether it does is asked of points a hair
 * beside the bit, which every piece of path before may have taken, not of cells.
 */
function rubbing({ bits }: Trial, stage: Stage): number[] {
  const { before, steps, shift, face } = stage
  const rubs: number[] = []
  for (const [n, step] of steps.entries()) {
    const bit = bits.get(String(step.tool))
    if (!bit || [...step.from, ...step.to].some(v => v === undefined) || rubs.at(-1) === step.line) continue
    const radius = bit.diameter / 2
    const [ax, ay, az] = step.from.map((v, k) => v! + shift[k])
    const [bx, by, bz] = step.to.map((v, k) => v! + shift[k])
    const length = Math.hypot(bx - ax, by - ay)
    const reached = Math.max(az, bz) + bit.cuttingLength
    if (bit.shankDiameter / 2 < radius - 0.001 || length < 0.5 || reached > face - 0.05) continue
    for (const side of [1, -1]) {
      const x = (ax + bx) / 2 - (side * (by - ay) * (radius + BESIDE)) / length
      const y = (ay + by) / 2 + (side * (bx - ax) * (radius + BESIDE)) / length
      const [i, j] = [Math.floor(x / before.cell), Math.floor(y / before.cell)]
      if (i < 0 || j < 0 || i >= before.nx || j >= before.ny) continue
      let height = before.top(j * before.nx + i)
      for (let k = 0; k <= n && height > reached + 0.05; k++) height = Math.min(height, leftBy(k, x, y))
      if (height > reached + 0.05) {
        rubs.push(step.line)
        break
      }
    }
  }
  return rubs

  /** How high a piece of the path leaves a point: no higher than at its nearest place, or than at either end. */
  function leftBy(k: number, x: number, y: number): number {
    const bit = bits.get(String(steps[k].tool))
    if (!bit || steps[k].to.some(v => v === undefined)) return Infinity
    const to = steps[k].to.map((v, axis) => v! + shift[axis])
    const from = steps[k].from.map((v, axis) => (v === undefined ? to[axis] : v + shift[axis]))
    const [dx, dy] = [to[0] - from[0], to[1] - from[1]]
    const square = dx * dx + dy * dy
    const near = square > 0 ? Math.max(0, Math.min(1, ((x - from[0]) * dx + (y - from[1]) * dy) / square)) : 0
    let least = Infinity
    for (const t of [0, near, 1]) {
      const rise = underside(bit, Math.hypot(x - from[0] - t * dx, y - from[1] - t * dy))
      if (rise !== undefined) least = Math.min(least, from[2] + (to[2] - from[2]) * t + rise)
    }
    return least
  }
}
