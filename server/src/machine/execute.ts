import * as W from './block.ts'
import { runCycle } from './cycles.ts'
import type { Setting } from './gather.ts'
import { PLANES } from './modal.ts'
import { MotionFlag, MotionKind } from './motions.ts'
import { arcMove, straightMove } from './moves.ts'
import type { Run } from './run.ts'
import { codeName, Group } from './words.ts'

/**
 * Does what the gathered line says, in the order of NISTIR 6556, Table 8: feed mode, F, S, T, M6, spindle,
 * coolant, overrides, dwell, plane, units, compensation, lengths, work offset, path mode, distance mode, retract
 * mode, the codes that act once, motion, stop. Settings of parameters come last of all values (3.3.3).
 */
export function execute(run: Run, settings: readonly Setting[]): void {
  const { block } = run
  for (const { target, value } of settings) run.setParameter(target, value)
  if (block.gCount > 0 && block.g[Group.feedMode] >= 0) setFeedMode(run, block.g[Group.feedMode] === 930)
  // Units come after F in Table 8, so that F counts in the units before; where there were none yet, and in the compact
  // dialect (from memory), in those of its own line.
  const ownUnits = run.modal.units === undefined || run.dialect.compact
  const units = ownUnits && block.gCount > 0 ? block.g[Group.units] : -1
  if (block.has !== 0) {
    if (block.holds(W.F)) feed(run, units)
    if (block.holds(W.S)) speed(run)
    if (block.holds(W.T)) selectTool(run)
  }
  if (block.mCount > 0) machineFunctions(run)
  if (block.gCount > 0) {
    if (block.dwell) dwell(run)
    settingCodes(run)
  }
  const once = block.gCount > 0 ? block.g[Group.once] : -1
  if (once >= 0) actOnce(run, once)
  motion(run, once)
  if (block.mCount > 0 && block.m[Group.stop - 100] >= 0) stop(run, block.m[Group.stop - 100])
}

function setFeedMode(run: Run, inverse: boolean): void {
  if (run.modal.inverseTime === inverse) return
  run.modal.inverseTime = inverse
  // A number of the one mode means nothing in the other.
  run.modal.feed = Number.NaN
  run.modal.feedWord = undefined
  run.changed()
}

function feed(run: Run, unitsOnLine: number): void {
  const { block, modal } = run
  const value = block.value[W.F]
  if (value < 0) {
    run.problem('syntax/bad-number', run.wordSpan(W.F), 'A feed cannot be negative. The machine will refuse the line.')
    return
  }
  const scale = unitsOnLine === 200 ? 25.4 : unitsOnLine === 210 ? 1 : modal.scale
  // A feed of nothing is no feed.
  modal.feed = value === 0 ? Number.NaN : modal.inverseTime ? value : value * scale
  modal.feedWord = run.anchor(run.wordSpan(W.F))
  run.changed()
  if (!Number.isNaN(modal.feed)) modal.feedMissing = false
}

function speed(run: Run): void {
  const { block, modal } = run
  if (block.value[W.S] < 0) {
    run.problem('syntax/bad-number', run.wordSpan(W.S), 'A speed cannot be negative. The machine will refuse the line.')
    return
  }
  modal.speed = block.value[W.S]
  modal.speedWord = run.anchor(run.wordSpan(W.S))
  run.changed()
}

function selectTool(run: Run): void {
  const { block, modal } = run
  const value = Math.round(block.value[W.T])
  if (Math.abs(value - block.value[W.T]) > 0.0001 || value < 0) {
    run.problem('syntax/bad-number', run.wordSpan(W.T), 'The number of a bit is a whole number from 0 up.')
    return
  }
  if (modal.cutYet && !modal.changesBits) {
    // Without M6 nothing is changed; what T says after the first cut is only known once the program is read.
    modal.lateSelection = value
    modal.lateSelectionWord = run.anchor(run.wordSpan(W.T))
    return
  }
  modal.selected = value
  modal.selectedWord = run.anchor(run.wordSpan(W.T))
  run.changed()
}

function machineFunctions(run: Run): void {
  const { block, modal } = run
  if (block.m[Group.change - 100] >= 0) {
    modal.changesBits = true
    run.out.changesBits = true
    if (modal.lateSelection !== undefined) {
      modal.selected = modal.lateSelection
      modal.selectedWord = modal.lateSelectionWord
      modal.lateSelection = undefined
    }
    if (modal.selected !== undefined) {
      modal.tool = modal.selected === 0 ? undefined : modal.selected
      modal.toolWord = modal.selectedWord
    }
    // 3.6.3: when the change is done the spindle stands still.
    modal.spindle = 'stopped'
    modal.spindleWord = run.anchor(run.mSpan(Group.change))
    run.changed()
    run.event('tool-change', run.mSpan(Group.change))
  }
  const spindle = block.m[Group.spindle - 100]
  if (spindle >= 0) {
    modal.spindle = spindle === 30 ? 'clockwise' : spindle === 40 ? 'counter-clockwise' : 'stopped'
    modal.spindleWord = run.anchor(run.mSpan(Group.spindle))
    run.changed()
    run.event('spindle', run.mSpan(Group.spindle))
  }
}

function dwell(run: Run): void {
  const { block } = run
  if (!block.holds(W.P)) {
    if ((block.seen & (1 << W.P)) === 0) {
      run.problem('syntax/bad-word', run.lineSpan(), 'G4 waits for P seconds, and there is no P word: write G4 P0.5.')
    }
    return
  }
  const seconds = block.value[W.P]
  if (seconds < 0) {
    run.problem('syntax/bad-number', run.wordSpan(W.P), 'A dwell cannot be negative. The machine will refuse the line.')
    return
  }
  run.event('dwell', run.lineSpan(), seconds)
}

function settingCodes(run: Run): void {
  const { block, modal } = run
  const { g } = block
  if (g[Group.plane] >= 0) setPlane(run, g[Group.plane], g[Group.radius])
  if (g[Group.units] >= 0) setUnits(run, g[Group.units] === 200 ? 'inch' : 'mm')
  if (g[Group.radius] >= 0) compensation(run, g[Group.radius])
  if (g[Group.length] >= 0) toolLength(run, g[Group.length])
  if (g[Group.offset] >= 0) workOffset(run, g[Group.offset])
  if (g[Group.distance] >= 0) modal.absolute = g[Group.distance] === 900
  if (g[Group.arcDistance] >= 0) modal.arcAbsolute = g[Group.arcDistance] === 901
  if (g[Group.retract] >= 0) modal.retractToStart = g[Group.retract] === 980
  run.changed()
}

function setPlane(run: Run, code: number, compensationOnLine: number): void {
  const { modal } = run
  modal.plane = PLANES[(code - 170) / 10]
  if (modal.plane === 'XY' || modal.compensation === 'off') return
  // What this line says of compensation itself is looked at by itself.
  if (compensationOnLine < 0) {
    run.problem(
      'arc/wrong-plane',
      run.gSpan(Group.plane),
      `${codeName('G', code)} leaves the plane of G17 while ${modal.compensation === 'left' ? 'G41' : 'G42'} keeps the bit off its path, which works in that plane only. The machine stops here: write G40 before it.`,
    )
  }
  modal.compensation = 'off'
  modal.programmed = undefined
}

function setUnits(run: Run, units: 'mm' | 'inch'): void {
  const { modal } = run
  const span = run.gSpan(Group.units)
  if (modal.units !== undefined && modal.units !== units && modal.moved.includes(true) && !modal.unitsDiffer) {
    modal.unitsDiffer = true
    run.problem(
      'program/units-differ',
      span,
      `From here on lengths are ${units === 'mm' ? 'millimetres' : 'inches'}, before they were ${units === 'mm' ? 'inches' : 'millimetres'}. That is allowed, but one program in two units is easily misread: keep to one, or make sure that it is meant.`,
    )
  }
  modal.units = units
}

function compensation(run: Run, code: number): void {
  const { block, modal } = run
  modal.programmed = undefined
  if (code === 400) {
    modal.compensation = 'off'
    return
  }
  const name = codeName('G', code)
  // Appendix B has the plane of G17 alone.
  if (modal.plane !== 'XY') {
    modal.compensation = 'off'
    run.problem(
      'arc/wrong-plane',
      run.gSpan(Group.radius),
      `${name} keeps the bit off its path in the plane of G17 only, and ${modal.plane === 'ZX' ? 'G18' : 'G19'} is in force. The machine stops here: write G17 before it.`,
    )
    return
  }
  const number = block.holds(W.D) ? Math.round(block.value[W.D]) : (modal.tool ?? modal.selected ?? 0)
  const diameter = run.toolDiameters?.get(number)
  if (diameter === undefined) {
    modal.compensation = 'off'
    const why = `${name} moves the bit aside by its radius, and the diameter of bit ${number} is not known.`
    run.cannotSimulate(run.gSpan(Group.radius), why)
    return
  }
  modal.compensation = code === 410 ? 'left' : 'right'
  modal.compensationRadius = diameter / 2
}

function toolLength(run: Run, code: number): void {
  const { block, modal } = run
  if (code === 490) modal.toolLength = 0
  else if (code === 430) {
    if (!block.holds(W.H)) {
      if ((block.seen & (1 << W.H)) === 0) {
        run.problem(
          'syntax/bad-word',
          run.gSpan(Group.length),
          'G43 needs an H word that says whose length to take: write G43 H1.',
        )
      }
      return
    }
    // Without a table of lengths Z0 is what the maker touched off with that bit: the tip is what moves.
    if (run.toolLengths) {
      const length = run.toolLengths.get(Math.round(block.value[W.H]))
      if (length === undefined) run.cannotSimulate(run.wordSpan(W.H), 'The length of that bit is not in the table.')
      modal.toolLength = length ?? Number.NaN
    }
  } else {
    run.cannotSimulate(run.gSpan(Group.length), 'G43.1 shifts Z by a length that depends on how Z was touched off.')
    return
  }
  modal.settleOffset()
}

function workOffset(run: Run, code: number): void {
  const { modal } = run
  modal.work = code < 590 ? (code - 540) / 10 : code - 590 + 5
  modal.settleOffset()
  if (modal.offset.some(Number.isNaN)) {
    run.cannotSimulate(
      run.gSpan(Group.offset),
      `Where the zero of ${codeName('G', code)} lies is stored in the machine and not known here.`,
    )
  }
}

function actOnce(run: Run, code: number): void {
  switch (code) {
    case 100:
      setOrigin(run)
      return
    case 280:
    case 300:
      goHome(run, code)
      return
    case 920:
      shift(run)
      return
    case 921:
      run.modal.shift = [0, 0, 0]
      run.modal.savedShift = [0, 0, 0]
      break
    case 922:
      run.modal.savedShift = [...run.modal.shift]
      run.modal.shift = [0, 0, 0]
      break
    case 923:
      run.modal.shift = [...run.modal.savedShift]
      break
    default:
      return
  }
  run.modal.settleOffset()
  run.changed()
}

const AXIS_LETTERS = [W.X, W.Y, W.Z] as const

/** G10 L2 Pn: origin of a work offset in machine coordinates; L20: so that the bit stands at the values given. */
function setOrigin(run: Run): void {
  const { block, modal } = run
  const kind = block.holds(W.L) ? Math.round(block.value[W.L]) : Number.NaN
  if (kind !== 2 && kind !== 20) {
    run.problem('syntax/bad-word', run.gSpan(Group.once), 'G10 is understood with L2 only: write G10 L2 P1 X… Y… Z….')
    return
  }
  const number = block.holds(W.P) ? Math.round(block.value[W.P]) : Number.NaN
  const system = number === 0 && run.dialect.compact ? modal.work : number - 1
  if (!(system >= 0 && system <= 8)) {
    run.problem('syntax/bad-word', run.gSpan(Group.once), 'G10 needs P1 to P9: which of G54 to G59.3 is meant.')
    return
  }
  for (let axis = 0; axis < 3; axis++) {
    if (!block.holds(AXIS_LETTERS[axis])) continue
    const value = block.value[AXIS_LETTERS[axis]] * modal.scale
    modal.setOrigin(
      system,
      axis,
      kind === 20 ? modal.position[axis] - value - modal.shift[axis] : value - run.startOrigin[axis],
    )
  }
  modal.settleOffset()
  run.changed()
  if (kind === 20 && zeroFromProbe(run)) return
  if (system === modal.work && modal.offset.some(Number.isNaN)) {
    run.cannotSimulate(
      run.gSpan(Group.once),
      'G10 puts the zero at a place of the machine; where that is on the blank is not known here.',
    )
  }
}

/** A probe stops where it touches, short of the place that is written: a zero taken there is the machine's to know. */
function zeroFromProbe(run: Run): boolean {
  const probes = run.modal.motion >= 382 && run.modal.motion <= 385
  if (probes) {
    run.cannotSimulate(
      run.gSpan(Group.once),
      'The zero is taken where the probe has touched, and where that was is not known here.',
    )
  }
  return probes
}

/** G28, G30: through the point given to a place that only the machine knows. */
function goHome(run: Run, code: number): void {
  const { block, modal } = run
  const flags = MotionFlag.machineCoordinates
  if ((block.has & W.AXES) !== 0) straightMove(run, MotionKind.rapid, flags)
  const first = code === 280 ? 5161 : 5181
  const home = [0, 1, 2].map(axis => {
    // The compact dialect takes home only the axes that are named; from memory.
    if (run.dialect.compact && (block.has & W.AXES) !== 0 && !block.holds(AXIS_LETTERS[axis])) {
      return modal.position[axis]
    }
    const stored = modal.parameters.get(first + axis)
    return stored === undefined ? Number.NaN : stored - run.startOrigin[axis]
  })
  run.move(MotionKind.rapid, flags, home[0], home[1], home[2])
}

/** G92: from now on the bit stands at these coordinates. */
function shift(run: Run): void {
  const { block, modal } = run
  if ((block.seen & (W.AXES | W.ROTARY)) === 0) {
    run.problem('syntax/bad-word', run.gSpan(Group.once), 'G92 names at least one axis: write G92 X0 Y0.')
    return
  }
  for (let axis = 0; axis < 3; axis++) {
    if (!block.holds(AXIS_LETTERS[axis])) continue
    const value = block.value[AXIS_LETTERS[axis]] * modal.scale
    if (Number.isNaN(modal.position[axis]) && !modal.moved[axis]) {
      // Nothing has moved this axis yet: the program itself says where the bit stands.
      modal.position[axis] = value + modal.offset[axis]
      if (!modal.moved.includes(true)) modal.start[axis] = modal.position[axis]
      continue
    }
    modal.shift[axis] += modal.position[axis] - (value + modal.offset[axis])
  }
  modal.savedShift = [...modal.shift]
  modal.settleOffset()
  run.changed()
  if (zeroFromProbe(run)) return
  if (modal.offset.some(Number.isNaN)) {
    run.cannotSimulate(run.gSpan(Group.once), 'G92 names the place where the bit is, and that is not known here.')
  }
}

function motion(run: Run, once: number): void {
  const { block, modal } = run
  const code = block.gCount > 0 ? block.g[Group.motion] : -1
  const axes = block.seen & (W.AXES | W.ROTARY)
  const takesAxes = once >= 0 && once <= 920
  if (code >= 0 && takesAxes) {
    if (code !== 800 && axes !== 0) {
      run.problem(
        'syntax/modal-clash',
        run.gSpan(Group.motion),
        `${codeName('G', code)} and ${codeName('G', once)} both want the axis words of this line. The machine refuses it: write them on two lines.`,
      )
    }
    modal.motion = code
    return
  }
  if (code >= 0) {
    if (code < 800 || code !== modal.motion) resetCycle(run, code)
    modal.motion = code
  }
  if (takesAxes) return
  if (code < 0 && axes === 0) return
  if (axes !== 0) units(run)
  const rotary = block.has & W.ROTARY
  if (rotary !== 0) {
    const letter = block.holds(W.A) ? W.A : block.holds(W.B) ? W.B : W.C
    run.cannotSimulate(run.wordSpan(letter), 'A turning axis moves here, and only X, Y and Z are followed.')
  }
  const inForce = modal.motion
  if (inForce === 800) {
    if (axes !== 0) {
      run.problem(
        'syntax/bad-word',
        run.lineSpan(),
        'There are axis words, but G80 has ended all motion. The machine refuses the line: write G0 or G1.',
      )
    }
    return
  }
  if (inForce === 0 || inForce === 10) {
    if ((block.has & W.AXES) === 0) return
    straightMove(run, inForce === 0 ? MotionKind.rapid : MotionKind.line, 0)
  } else if (inForce === 20 || inForce === 30) arcMove(run, inForce === 30, code >= 0)
  else if (inForce >= 810 && inForce <= 890) runCycle(run, inForce)
  else if (inForce >= 382 && inForce <= 385) {
    if ((block.has & W.AXES) !== 0) straightMove(run, MotionKind.probe, 0)
  }
}

function resetCycle(run: Run, code: number): void {
  if (code !== run.modal.motion) run.modal.cycle.fill(Number.NaN)
}

/** Notes that a length was read before the program said in which unit. */
function units(run: Run): void {
  if (run.modal.units !== undefined) return
  const { out, block } = run
  if (out.noUnits) {
    out.noUnits.count++
    out.noUnits.lastLine = block.line
  } else out.noUnits = { first: run.lineSpan(), lastLine: block.line, count: 1, inverseTime: false }
}

function stop(run: Run, code: number): void {
  const { modal } = run
  const span = run.mSpan(Group.stop)
  if (code === 20 || code === 300) {
    run.event('end', span)
    // 3.6.1: what M2 and M30 put back.
    modal.savedShift = [...modal.shift]
    modal.shift = [0, 0, 0]
    modal.work = 0
    modal.plane = 'XY'
    modal.absolute = true
    modal.inverseTime = false
    modal.compensation = 'off'
    modal.programmed = undefined
    modal.spindle = 'stopped'
    modal.spindleWord = run.anchor(span)
    modal.motion = 10
    modal.ended = true
    modal.settleOffset()
    run.changed()
  } else run.event('stop', span)
}
