import type { Fact, Field } from './field.ts'
import type { CopyTrial, Stage, Trial, TrialBit } from './trial.ts'
import { contact, underside } from './wood.ts'
import { hollowBeneath, workingsOf } from './workings.ts'

/** A limit that is broken, and where it shows: a program's line (0-based), or the job as a whole. */
export interface Harm {
  readonly what: string
  readonly program?: string
  readonly line?: number
  readonly setup?: string
}

/**
 * Everything that a trial shows to be broken: limits of the sheet, the bits and the machine, things touched by a rapid or
 * a clamp, cuts below the stock. Each is held with a margin for the judge's own cells, so that a harm is never a guess.
 */
export function harmsOf(trial: Trial): Harm[] {
  const harms = new Map<string, Harm>()
  const add = (harm: Harm): void => {
    const key = `${harm.what} ${harm.program ?? ''} ${harm.line ?? ''}`
    if (!harms.has(key)) harms.set(key, harm)
  }
  for (const { program, line, why } of trial.broken)
    add({ what: `text: ${why.replace(/^line \d+: /, '')}`, program, line })
  for (const copy of trial.copies.values()) {
    for (const stage of copy.stages) {
      judgeStage(trial, stage, add)
      for (const { what, line } of workingsOf(trial, copy, stage))
        add({ what, program: stage.setup.program, setup: stage.setup.name, ...(line === undefined ? {} : { line }) })
    }
    judgePiece(trial, copy, add)
  }
  return [...harms.values()]
}

type Add = (harm: Harm) => void

function judgeStage(trial: Trial, stage: Stage, add: Add): void {
  const { sheet, unit, bits } = trial
  const { machine } = sheet
  const { setup, facts } = stage
  const at = (what: string, fact?: Fact): void =>
    add({ what, program: setup.program, setup: setup.name, ...(fact ? { line: fact.line } : {}) })
  const clearance = machine.clearance * unit
  const through = (setup.through ?? (setup.makes === 'outline' ? 0.5 / unit : 0)) * unit
  if (stage.zeroLost) at('zero kept though the blank was turned')
  if (!stage.ends) at('text: no end', facts.at(-1))
  if (!stage.saysUnits) at('text: units not said', facts[0])
  let started = false
  let [all, outside] = [0, 0]
  const least = [Infinity, Infinity, Infinity]
  const most = [-Infinity, -Infinity, -Infinity]
  const width = stage.before.nx * stage.before.cell
  const depth = stage.before.ny * stage.before.cell
  for (const fact of facts) {
    const { step } = fact
    const bit = bits.get(String(step.tool))
    const cuts = fact.bite > contact + 0.01
    if (!started && step.from[2] === undefined) {
      if (step.to[2] !== undefined) started = true
      else if (step.to[0] !== undefined || step.to[1] !== undefined) {
        at('first move sideways at an unknown height', fact)
        started = true
      }
    }
    if (!fact.rapid && step.feed === undefined) at('text: feed missing', fact)
    if (!fact.rapid && !bit) at('no bit known', fact)
    if (fact.lowest < stage.bed - through - 0.03) at('below the stock', fact)
    if (!bit) continue
    if (fact.rapid && cuts) at('rapid in wood', fact)
    if (!fact.rapid && cuts) judgeCut(trial, fact, bit, at)
    if (cuts && fact.rubs) at('shank rubs', fact)
    if (fact.collet) at('collet touches', fact)
  }
  const factOf = new Map(facts.map(fact => [fact.step.motion, fact]))
  for (const step of stage.steps) {
    for (let k = 0; k < 3; k++) {
      const v = step.to[k]
      if (v === undefined || Number.isNaN(v)) continue
      least[k] = Math.min(least[k], v)
      most[k] = Math.max(most[k], v)
    }
    if (step.rapid || step.to.some(v => v === undefined) || step.from.some(v => v === undefined)) continue
    const length = Math.hypot(...step.to.map((v, k) => v! - step.from[k]!))
    const far = Math.max(10, bits.get(String(step.tool))?.diameter ?? 0)
    const x = (step.to[0]! + step.from[0]!) / 2 + stage.shift[0]
    const y = (step.to[1]! + step.from[1]!) / 2 + stage.shift[1]
    const over = (v: number, k: number): boolean =>
      Math.abs(v - step.from[k]!) * (step.feed ?? 0) > length * machine.maxFeed[k] * unit * 1.01
    if (length > 0.5 && step.to.some((v, k) => over(v!, k))) at('feed over the machine', factOf.get(step.motion))
    all += length
    if (Math.hypot(Math.max(0, -x, x - width), Math.max(0, -y, y - depth)) > far) outside += length
  }
  if (outside > 0.22 * all) at('much of the path beside the blank')
  for (let k = 0; k < 3; k++) if (most[k] - least[k] > machine.travel[k] * unit + 0.01) at('outside the travel')
  judgeTravels(trial, stage, clearance, at)
  judgeClamps(trial, stage, at)
  const last = stage.steps.at(-1)
  let highest = -Infinity
  for (const top of stage.after.tops()) highest = Math.max(highest, top)
  if (last?.to[2] !== undefined && last.to[2] + stage.shift[2] < highest + clearance - 0.01)
    at('ends low', facts.at(-1))
}

function judgeCut({ sheet, unit }: Trial, fact: Fact, bit: TrialBit, at: (what: string, fact: Fact) => void): void {
  const { machine } = sheet
  const { spindle } = machine
  const { step } = fact
  const speed = spindle.manual ? (spindle.speed ?? 16000) : step.speed
  if (!spindle.manual) {
    if (!step.spinning) at('spindle stands', fact)
    if (step.speed === undefined) at('no speed', fact)
    else if (step.speed > (spindle.max ?? 24000) || step.speed < (spindle.min ?? 8000))
      at('speed outside the machine', fact)
  }
  if (speed !== undefined && speed > bit.maxSpeed) at('speed over the bit', fact)
  const upright = fact.lengthXY < 1e-6
  if (fact.down) {
    if (upright && !bit.centreCutting && fact.under > contact) at('plunge without centre cutting', fact)
    const feed = step.feed === undefined ? 0 : step.feed * Math.sin(fact.steepest)
    if (feed > bit.maxPlungeFeed * 1.02 && fact.under > contact) at('plunge too fast', fact)
    if (!upright && (fact.steepest * 180) / Math.PI > bit.maxRampAngle + 0.15 && fact.under > contact)
      at('ramp too steep', fact)
  }
  // A shaped bit that steps down beside its own wall has the wall behind its flank: what it takes off is what counts.
  const deep = bit.shape === 'flat' ? fact.axial : fact.bite
  if (deep > bit.maxPassDepth + 0.05) at('pass too deep', fact)
  if (!fact.down && fact.lengthXY > 0 && step.feed !== undefined && speed !== undefined && step.spinning) {
    const wide = fact.volume / (fact.axial * fact.lengthXY)
    const perSecond = step.feed / 60
    const reached = fact.lengthXY > (perSecond * perSecond) / (machine.acceleration[0] * unit)
    const load = step.feed / (speed * bit.flutes)
    if (bit.chipLoad && wide > 0.2 * bit.diameter && reached) {
      if (load > bit.chipLoad[1] * 1.01) at('chips too thick', fact)
      if (load < bit.chipLoad[0] * 0.99) at('chips too thin', fact)
    }
  }
}

/** Rapids sideways, closer than the clearance over wood that the program leaves as it found it. */
function judgeTravels({ bits }: Trial, stage: Stage, clearance: number, at: (what: string, fact?: Fact) => void): void {
  const { before, after, shift } = stage
  const { cell, nx, ny } = after
  const factOf = new Map(stage.facts.map(fact => [fact.step.motion, fact]))
  for (const step of stage.steps) {
    if (!step.rapid || step.to.some(v => v === undefined)) continue
    const from = step.from.map((v, k) => (v ?? step.to[k]!) + shift[k])
    const to = step.to.map((v, k) => v! + shift[k])
    const bit = bits.get(String(step.tool))
    if (!bit || Math.hypot(to[0] - from[0], to[1] - from[1]) < 1e-6) continue
    if (Math.min(from[2], to[2]) > stage.face + clearance + 5) continue
    const fact = factOf.get(step.motion)
    if (fact && fact.bite > contact) continue
    const radius = bit.diameter / 2 - cell
    const count = Math.ceil(Math.hypot(to[0] - from[0], to[1] - from[1]))
    let low = false
    for (let n = 0; n <= count && !low; n++) {
      const [x, y, z] = from.map((v, k) => v + ((to[k] - v) * n) / count)
      for (
        let j = Math.max(0, Math.floor((y - radius) / cell));
        j <= Math.min(ny - 1, (y + radius) / cell) && !low;
        j++
      )
        for (let i = Math.max(0, Math.floor((x - radius) / cell)); i <= Math.min(nx - 1, (x + radius) / cell); i++) {
          const index = j * nx + i
          const top = after.top(index)
          if (top < before.top(index) - 0.005 || top > z + contact) continue
          const rise = underside(bit, Math.hypot((i + 0.5) * cell - x, (j + 0.5) * cell - y))
          if (rise === undefined || z + rise - top > clearance - 0.01) continue
          low = true
          break
        }
    }
    if (low) at('travels low over wood', fact)
  }
}

function judgeClamps({ sheet, unit, bits }: Trial, stage: Stage, at: (what: string, fact?: Fact) => void): void {
  const factOf = new Map(stage.facts.map(fact => [fact.step.motion, fact]))
  for (const clamp of sheet.keepOut ?? []) {
    if (clamp.setup !== stage.setup.name) continue
    const [[x0, y0], [x1, y1]] = clamp.box.map(p => p.map(v => v * unit))
    const height = stage.face + clamp.height * unit
    for (const step of stage.steps) {
      const bit = bits.get(String(step.tool))
      if (!bit || [...step.to, ...step.from].some(v => v === undefined)) continue
      const count = Math.ceil(Math.hypot(...step.to.map((v, k) => v! - step.from[k]!)) / 0.5) || 1
      for (let n = 0; n <= count; n++) {
        const [x, y, z] = step.to.map((v, k) => step.from[k]! + ((v! - step.from[k]!) * n) / count + stage.shift[k])
        const away = Math.hypot(Math.max(0, x0 - x, x - x1), Math.max(0, y0 - y, y - y1))
        const rise = underside(bit, away)
        const hit =
          (rise !== undefined && away < bit.diameter / 2 - 0.05 && z + rise < height - 0.05) ||
          (away < bit.colletDiameter / 2 - 0.05 && z + bit.stickout < height - 0.05)
        if (!hit) continue
        at('touches a clamp', factOf.get(step.motion))
        break
      }
    }
  }
}

function judgePiece(trial: Trial, copy: CopyTrial, add: Add): void {
  const { sheet, unit } = trial
  const { limits } = sheet
  const job = (what: string, stage?: Stage): void =>
    add({ what, ...(stage ? { program: stage.setup.program, setup: stage.setup.name } : {}) })
  if (copy.web) job('plug pieces joined', stageOf(copy, 'plug'))
  if (copy.fit) {
    if (copy.fit.tightest < limits.clearance[0] * unit - 0.012) job('fit too tight', stageOf(copy, 'pocket'))
    if (copy.fit.loosest > limits.clearance[1] * unit + 0.012) job('fit too loose', stageOf(copy, 'pocket'))
  }
  const cavity = stageOf(copy, 'cavity')
  const outline = stageOf(copy, 'outline')
  if (!cavity) return
  // All of one blank lie in frames that differ by turns alone: compare as the cavity lies.
  const lie = cavity
  const done = [...copy.stages].reverse().find(s => s.setup.blank === cavity.setup.blank)!
  const same = (a: Stage): boolean =>
    a.setup.face === lie.setup.face && a.setup.turn === lie.setup.turn && a.setup.spin === lie.setup.spin
  if (!same(done)) return
  const end = done.after
  // Roughed out in a set-up of its own, the cavity begins there: the last one meets an inlay that is cut already.
  const { before } = copy.stages.find(s => s.setup.makes === 'cavity' && s.setup.blank === lie.setup.blank && same(s))!
  const cut = Uint8Array.from(end.hi, (_, index) => (before.top(index) - cavity.after.top(index) > contact ? 1 : 0))
  const through = (index: number): boolean => end.solid(index) <= 0
  const inside = insideOutline(end, outline && same(outline) ? outline : undefined)
  let [floor, reveal, left] = [Infinity, Infinity, Infinity]
  let gone = false
  for (let index = 0; index < cut.length; index++) {
    if (!cut[index] || !inside[index]) continue
    if (cavity.after.top(index) - end.top(index) > contact) continue
    // The film of glue between wood and insert is solid as well.
    floor = Math.min(floor, through(index) ? 0 : end.top(index) - end.bottom(index))
    if (!hasInsert(before, index)) continue
    reveal = Math.min(reveal, before.insertHi[index] - cavity.after.top(index))
    const stays = Math.max(0, end.insertHi[index] - end.insertLo[index])
    left = Math.min(left, stays)
    if (stays <= 0) gone = true
  }
  if (floor < limits.floor * unit - 0.01) job('floor too thin', cavity)
  if (Number.isFinite(reveal) && reveal < limits.reveal * unit - 0.01) job('not revealed', cavity)
  if (left < limits.inlayLeft * unit - 0.01) job(gone ? 'inlay gone' : 'inlay too thin', cavity)
  const covered = cut.some((own, index) => !own && inside[index] && hasInsert(before, index))
  if (covered && copy.glue !== undefined && copy.glue > limits.gapBeneath * unit + 0.01)
    job('room beneath', stageOf(copy, 'pocket'))
  const pocket = stageOf(copy, 'pocket')
  if (pocket && copy.glue !== undefined && hollowBeneath(copy, pocket, copy.glue, limits.gapBeneath * unit))
    job('hollow beneath', pocket)
  const wall = wallOf(end, cut, outline && same(outline) ? outline : undefined)
  if (wall < limits.wall * unit - 1) job('wall too thin', cavity)
  judgeLevel(copy, inside, lie, job)
  if (outline && same(outline) && !outline.setup.held) {
    if (looseCells(outline.after, inside)) job('cut loose', outline)
  }
}

const hasInsert = (field: Field, index: number): boolean => field.insertHi[index] > field.insertLo[index]

const stageOf = (copy: CopyTrial, makes: string): Stage | undefined =>
  [...copy.stages].reverse().find(stage => stage.setup.makes === makes)

/** Cells that the rim of the blank does not reach without crossing what the outline cut. */
function insideOutline(end: Field, outline: Stage | undefined): Uint8Array {
  const inside = new Uint8Array(end.hi.length).fill(1)
  if (!outline) return inside
  const groove = (index: number): boolean => outline.before.top(index) - outline.after.top(index) > contact
  const queue: number[] = []
  const visit = (index: number): void => {
    if (!inside[index] || groove(index)) return
    inside[index] = 0
    queue.push(index)
  }
  const { nx, ny } = end
  for (let i = 0; i < nx; i++) [i, (ny - 1) * nx + i].forEach(visit)
  for (let j = 0; j < ny; j++) [j * nx, j * nx + nx - 1].forEach(visit)
  while (queue.length > 0) {
    const index = queue.pop()!
    const i = index % nx
    if (i > 0) visit(index - 1)
    if (i < nx - 1) visit(index + 1)
    if (index >= nx) visit(index - nx)
    if (index < inside.length - nx) visit(index + nx)
  }
  const some = inside.some((own, index) => own === 1 && !groove(index))
  if (!some) return inside.fill(1)
  for (let index = 0; index < inside.length; index++) if (groove(index)) inside[index] = 0
  return inside
}

/** Least distance from the cavity to the outline's groove or to the blank's edge, mm. */
function wallOf(end: Field, cut: Uint8Array, outline: Stage | undefined): number {
  const { nx, ny, cell } = end
  const rim: number[] = []
  const groove: number[] = []
  let edge = Infinity
  for (let index = 0; index < cut.length; index++) {
    const [i, j] = [index % nx, Math.floor(index / nx)]
    const isGroove = outline ? outline.before.top(index) - outline.after.top(index) > contact : false
    if (cut[index]) {
      if (isGroove) return 0
      edge = Math.min(edge, i, j, nx - 1 - i, ny - 1 - j)
      if (!cut[index - 1] || !cut[index + 1] || !cut[index - nx] || !cut[index + nx]) rim.push(index)
    } else if (isGroove) groove.push(index)
  }
  const least = edge * cell
  let square = Infinity
  for (const a of rim)
    for (const b of groove) {
      const [i, j] = [(a % nx) - (b % nx), Math.floor(a / nx) - Math.floor(b / nx)]
      if (i * i + j * j < square) square = i * i + j * j
    }
  return Math.min(least, Math.sqrt(square) * cell - cell)
}

/** Inside the final outline the levelled face is one plane, and the insert ends in it. */
function judgeLevel(copy: CopyTrial, inside: Uint8Array, lie: Stage, job: (what: string, stage?: Stage) => void): void {
  const level = stageOf(copy, 'level')
  const hasInsert = lie.before.insertHi.some((hi, index) => hi > lie.before.insertLo[index])
  if (!hasInsert) return
  // Seen from the cavity's side, the levelled face is the lower one.
  const counts = new Map<number, number>()
  const field = lie.before
  for (let index = 0; index < inside.length; index++) {
    if (!inside[index]) continue
    const bottom = field.bottom(index)
    if (Number.isFinite(bottom)) counts.set(Math.round(bottom * 100), (counts.get(Math.round(bottom * 100)) ?? 0) + 1)
  }
  const plane = [...counts].reduce((a, b) => (b[1] > a[1] ? b : a), [0, 0])[0] / 100
  let [high, sunk] = [0, 0]
  for (let index = 0; index < inside.length; index++) {
    if (!inside[index]) continue
    if (plane - field.bottom(index) > 0.07) high++
    if (field.insertHi[index] > field.insertLo[index] && field.insertLo[index] - plane > 0.07) sunk++
  }
  if (level && high > 4) job('not level', level)
  if (sunk > 4) job('insert under the face', level)
}

/** The finished piece hangs on nothing: no cell of the groove about it still holds. */
function looseCells(after: Field, inside: Uint8Array): boolean {
  const { nx } = after
  const seen = new Uint8Array(inside.length)
  const queue: number[] = []
  for (let index = 0; index < inside.length; index++)
    if (inside[index] && after.solid(index) > 0) {
      seen[index] = 1
      queue.push(index)
    }
  if (queue.length === 0 || queue.length === inside.length) return false
  while (queue.length > 0) {
    const index = queue.pop()!
    const [i, j] = [index % nx, Math.floor(index / nx)]
    if (i === 0 || j === 0 || i === nx - 1 || j === after.ny - 1) return false
    for (const next of [index - 1, index + 1, index - nx, index + nx]) {
      if (seen[next] || after.solid(next) <= 0) continue
      seen[next] = 1
      queue.push(next)
    }
  }
  return true
}
