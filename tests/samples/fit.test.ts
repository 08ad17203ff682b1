import { readFileSync } from 'node:fs'
import { expect, test } from 'vitest'
import type { Place } from './plain.ts'
import { pointsOf, readPlain } from './plain.ts'

const RADIUS = 2
const samples = new URL('../../samples/fern-dish/', import.meta.url)

type Point = { readonly x: number; readonly y: number }

/** The bit's path along the wall at the lowest level: what follows the last heading that names the wall, without the way off it. */
function wallPath(file: string, spacing: number): Point[] {
  const text = readFileSync(new URL(file, samples), 'utf8')
  const lines = text.split('\n')
  const heading = lines.findLastIndex(line => line.startsWith('(wall, once more'))
  const end = lines.indexOf('', heading)
  const moves = readPlain(text).filter(move => move.line > heading && move.line < end && move.kind !== 'rapid')
  // Round, and off the wall.
  return moves.slice(0, -1).flatMap(move => pointsOf(move, spacing))
}

/** From the plug's blank to the dish's as it lies for the pocket: the motif is drawn 45 farther right and 35 farther away
 * in the dish than on the plug's blank, and the dish, 240 wide, is turned sideways. */
const turnedOver = (points: readonly Point[]): Point[] => points.map(p => ({ x: 240 - (p.x + 45), y: p.y + 35 }))
const turned = (points: readonly Point[], degrees: number): Point[] => {
  const c = Math.cos((degrees * Math.PI) / 180)
  const s = Math.sin((degrees * Math.PI) / 180)
  return points.map(p => ({ x: c * p.x - s * p.y, y: s * p.x + c * p.y }))
}

/** Shifted so that the middle of what it covers is the origin. */
function centred(points: readonly Point[]): Point[] {
  const middle = (values: number[]): number => (Math.min(...values) + Math.max(...values)) / 2
  const x = middle(points.map(p => p.x))
  const y = middle(points.map(p => p.y))
  return points.map(p => ({ x: p.x - x, y: p.y - y }))
}

/**
 * Tightest and loosest gap. The bit's centre runs its radius outside the plug's wall and its radius inside the
 * pocket's, so the gap is twice the radius less the distance between the two paths, where each lies on its own side.
 */
function gaps(plug: readonly Point[], pocket: readonly Point[]): { tightest: number; loosest: number } {
  const all = pocket.map(p => 2 * RADIUS - Math.min(...plug.map(q => Math.hypot(p.x - q.x, p.y - q.y))))
  return { tightest: Math.min(...all), loosest: Math.max(...all) }
}

const plug = wallPath('plug.nc', 0.05)
const pocket = wallPath('pocket.nc', 0.2)

test('both walls were found whole', () => {
  const start = (points: readonly Point[]): Point => points[0]
  for (const path of [plug, pocket]) {
    const last = path[path.length - 1]
    expect(path.length).toBeGreaterThan(1000)
    expect(Math.hypot(start(path).x - last.x, start(path).y - last.y)).toBeLessThan(0.25)
  }
})

test('turned over, the plug has a tenth of room all round', () => {
  const { tightest, loosest } = gaps(turnedOver(plug), pocket)
  expect(tightest).toBeGreaterThan(0.095)
  expect(loosest).toBeLessThan(0.105)
})

test('as it was carved it goes in at no angle', () => {
  const coarsePlug = plug.filter((_, i) => i % 8 === 0)
  const coarse = centred(pocket).filter((_, i) => i % 4 === 0)
  for (let degrees = 0; degrees < 360; degrees += 10) {
    const { tightest, loosest } = gaps(centred(turned(coarsePlug, degrees)), coarse)
    expect(Math.max(loosest - 0.1, 0.1 - tightest), `turned by ${degrees}`).toBeGreaterThan(2)
  }
})

test('the pocket lies where the plug shows: motif of the dish in the middle of the cavity', () => {
  const paths: Place[] = readPlain(readFileSync(new URL('pocket.nc', samples), 'utf8'))
    .filter(move => move.to.z < 0)
    .flatMap(move => pointsOf(move, 0.5))
  const x = paths.map(p => 240 - p.x)
  const y = paths.map(p => p.y)
  // Cavity 28..212 by 20..140 with a corner radius of 5 at the floor, the bit's radius round the path.
  expect(Math.min(...x) - RADIUS).toBeGreaterThan(28 + 5)
  expect(Math.max(...x) + RADIUS).toBeLessThan(212 - 5)
  expect(Math.min(...y) - RADIUS).toBeGreaterThan(20 + 5)
  expect(Math.max(...y) + RADIUS).toBeLessThan(140 - 5)
})
