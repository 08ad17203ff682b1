import { describe, expect, it } from 'vitest'
import { Chance } from '../faults/random.ts'
import { TARGETS, tryCase } from './server.ts'

const seed = Number(process.env.TREEN_SEED ?? Math.floor(Math.random() * 1e9))
const counts = { programs: 12, sheets: 4, messages: 4 }

describe('a short run of npm run fuzz', () => {
  it.each(TARGETS)(`finds nothing broken by random %s (seed ${seed})`, async target => {
    for (let at = seed; at < seed + counts[target]; at++) {
      const { wrong, input } = await tryCase(target, new Chance(at))
      expect(wrong && `seed ${at}: ${wrong}\n${input}`).toBe(undefined)
    }
  })
})
