import type { Run } from '../../job/outcome.ts'
import { bitOf, feedCuts, passDepth } from '../common/inWood.ts'
import { isFeed, isLevel, lengthAcross } from '../common/path.ts'
import { height, mm } from '../common/wording.ts'
import { levelWord, programHeight } from '../common/words.ts'
import type { RunRule } from '../rule.ts'
import { CONTACT, SAME_LEVEL } from '../tolerances.ts'

/** A step this many times the usual one is no step that somebody chose (contract). */
const TIMES = 3
/** Fewer other steps than these do not say what is usual. */
const OTHERS = 2

/** A level is at least this many diameters long: a helix written to three places has short level pieces in it. */
const LEAST_LENGTH = 2

/** Level feed moves at one height, one after the other. */
interface Level {
  readonly z: number
  readonly first: number
  length: number
  cuts: boolean
  tooDeep: boolean
}

export const depthOddStep: RunRule = {
  id: 'depth/odd-step',
  title: 'a level that does not follow the others',
  severity: 'warning',
  fix: 'usual-step',
  reads: 'run',
  check(run, _sheet, report) {
    const { program } = run
    for (const { level, step, usual } of longSteps(run)) {
      report({
        at: levelWord(program, level.first),
        message: `The step down to ${height(programHeight(program, level.first, level.z))} is ${mm(step)}; the others here are about ${mm(usual)}. Is a digit of the depth wrong, or a level missing?`,
        found: step,
        limit: TIMES * usual,
      })
    }
    for (const { level, before } of stepsBack(run)) {
      const z = programHeight(program, level.first, level.z)
      const deeper = programHeight(program, level.first, before.z)
      report({
        at: levelWord(program, level.first),
        message: `This level, ${height(z)}, lies higher than the one before it, ${height(deeper)}, and cuts nothing but air on its whole way. Is a digit of the depth wrong?`,
        found: z,
        limit: deeper,
      })
    }
  },
}

function levelsOf(run: Run): Level[] {
  const { motions } = run.program
  const levels: Level[] = []
  let open: Level | undefined
  for (let i = 0; i < motions.count; i++) {
    // A travel, up and down again to the same height, does not end a level.
    if (!isFeed(motions, i) || !isLevel(motions, i)) continue
    if (!open || Math.abs(open.z - motions.z[i]) > SAME_LEVEL) {
      open = { z: motions.z[i], first: i, length: 0, cuts: false, tooDeep: false }
      levels.push(open)
    }
    const bit = bitOf(run, i)
    open.length += lengthAcross(motions, i)
    if (!bit || !feedCuts(run, i)) continue
    open.cuts = true
    // A step that is too much for the bit is told of as that.
    if (passDepth(run, i) > bit.maxPassDepth + CONTACT) open.tooDeep = true
  }
  return levels.filter(level => level.length >= LEAST_LENGTH * (bitOf(run, level.first)?.diameter ?? 0))
}

/** Steps of at least three times the middle one of the other steps of the same way down. */
function longSteps(run: Run): { level: Level; step: number; usual: number }[] {
  const cutting = levelsOf(run).filter(level => level.cuts)
  const odd: { level: Level; step: number; usual: number }[] = []
  let start = 0
  for (let end = 1; end <= cutting.length; end++) {
    if (end < cutting.length && cutting[end].z < cutting[end - 1].z) continue
    const way = cutting.slice(start, end)
    const steps = way.slice(1).map((level, k) => ({ level, step: way[k].z - level.z }))
    for (const { level, step } of steps) {
      const others = steps.filter(other => other.level !== level).map(other => other.step)
      const usual = median(others)
      if (others.length >= OTHERS && step >= TIMES * usual && !level.tooDeep) odd.push({ level, step, usual })
    }
    start = end
  }
  return odd
}

/** A whole level in air, higher than the one before it and followed by a deeper one: it should have been deeper too. */
function stepsBack(run: Run): { level: Level; before: Level }[] {
  const levels = levelsOf(run)
  const face = run.faceLevel - run.shift[2]
  return levels.slice(1, -1).flatMap((level, k) => {
    const before = levels[k]
    const after = levels[k + 2]
    const back = !level.cuts && before.cuts && after.cuts && level.z < face - CONTACT
    // A short way in air is a link from one place to the next.
    const whole = level.length >= before.length / 2
    return back && whole && level.z > before.z + SAME_LEVEL && after.z < before.z ? [{ level, before }] : []
  })
}

function median(values: number[]): number {
  const sorted = [...values].sort((a, b) => a - b)
  const middle = sorted.length >> 1
  return sorted.length % 2 ? sorted[middle] : (sorted[middle - 1] + sorted[middle]) / 2
}
