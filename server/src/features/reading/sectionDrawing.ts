import { number } from '../../rules/common/wording.ts'
import type { Bit } from '../../stock/bit.ts'
import { heightAt, type Profile, profileOf } from '../../stock/profile.ts'
import { EMPTY, type Layer } from '../../stock/stock.ts'
import type { Section } from './section.ts'

/** Size of the picture, pixels. */
const WIDTH = 340
const HEIGHT = 160
const EDGE = 8
/** Room under the wood for the scale, pixels. */
const FOOT = 18
/** Nothing is drawn larger than this, pixels a mm. */
const LARGEST = 9

/**
 * Colours of a drawing on paper of its own: an image does not know the editor's theme, so it must read on any. Text
 * stands at 11 : 1 against the paper, what is cut at 3.4 : 1 (WCAG 2.1 asks 4.5 and 3).
 */
const PAPER = '#f4eee2'
const INK = '#362d25'
const WOOD = '#dcbf93'
const WOOD_EDGE = '#7c5c34'
const INSERT = '#8f6038'
const CUT = '#c4461d'
const STEEL = '#c3cbd0'
const STEEL_EDGE = '#46535c'
const TABLE = '#a79d90'

/** How far to either side of the bit a section for a drawing must reach, mm. */
export function reachOfDrawing(bit: Bit, tip: number, faceLevel: number, bedLevel: number): number {
  return frameOf(bit, tip, faceLevel, bedLevel).wide / 2
}

/** What is shown, mm: heights from `low` to `high`, `wide` across; and pixels a mm. */
function frameOf(bit: Bit, tip: number, face: number, bed: number) {
  const low = Math.min(bed, tip) - 1.5
  const high = Math.max(face + 4, tip + 0.6 * bit.diameter, tip + 9)
  const room = { x: WIDTH - 2 * EDGE, y: HEIGHT - 2 * EDGE - FOOT }
  const scale = Math.min(LARGEST, room.y / (high - low), room.x / (1.7 * bit.diameter))
  return { low, high, scale, wide: room.x / scale }
}

/**
 * A section through blank and bit as an SVG text of its own, in real proportions: the wood that is left, what was just
 * taken out of it, the bit's own shape, how deep its tip stands under the face and what is left under it.
 * @param left what is solid under the tip, mm; undefined beside the blank
 */
export function drawSection(section: Section, left: number | undefined): string {
  const { bit, tip, faceLevel, bedLevel } = section
  const { low, high, scale, wide } = frameOf(bit, tip[1], faceLevel, bedLevel)
  const height = Math.round((high - low) * scale + 2 * EDGE + FOOT)
  const x = (along: number) => round(EDGE + (along - tip[0] + wide / 2) * scale)
  const z = (at: number) => round(EDGE + (high - at) * scale)
  const place: Place = { x, z, from: section.from, cell: section.cell }
  const table = `<path d="M${EDGE} ${z(bedLevel)}H${WIDTH - EDGE}" stroke="${TABLE}" stroke-width="3"/>`
  const face = `<path d="M${EDGE} ${z(faceLevel)}H${WIDTH - EDGE}" stroke="${INK}" stroke-width=".8" stroke-dasharray="2 3"/>`
  const parts = [
    `<rect width="${WIDTH}" height="${height}" rx="6" fill="${PAPER}"/>`,
    table,
    woodPaths(section.after, place),
    cutPath(section, place),
    face,
    bitPaths(bit, tip, high, place),
    dimensions(section, left, place),
    scaleBar(scale, height, section),
  ]
  const hatch = `<pattern id="c" width="5" height="5" patternUnits="userSpaceOnUse" patternTransform="rotate(45)"><rect width="5" height="5" fill="${CUT}" fill-opacity=".28"/><path d="M0 0V5" stroke="${CUT}" stroke-width="2.4"/></pattern>`
  const clip = `<clipPath id="p"><rect x="${EDGE}" y="${EDGE}" width="${WIDTH - 2 * EDGE}" height="${height - 2 * EDGE}"/></clipPath>`
  return `<svg xmlns="http://www.w3.org/2000/svg" width="${WIDTH}" height="${height}" viewBox="0 0 ${WIDTH} ${height}" font-family="system-ui,sans-serif" font-size="12" fill="${INK}"><defs>${hatch}${clip}</defs>${parts[0]}<g clip-path="url(#p)">${parts.slice(1).join('')}</g></svg>`
}

interface Place {
  readonly x: (along: number) => number
  readonly z: (at: number) => number
  readonly from: number
  readonly cell: number
}

const round = (value: number) => Math.round(value * 10) / 10

function woodPaths(layers: readonly Layer[], place: Place): string {
  return layers
    .flatMap(({ hi, lo, material }) => {
      return runsOf(hi.length, k => (hi[k] > EMPTY ? material[k] : undefined)).map(({ first, last, of }) => {
        const fill = of === 0 ? WOOD : INSERT
        return `<path d="${outline(first, last, hi, lo, place)}" fill="${fill}" stroke="${WOOD_EDGE}"/>`
      })
    })
    .join('')
}

/** What stood over the wood that is left. */
function cutPath({ before, after }: Section, place: Place): string {
  return before
    .flatMap(({ hi, lo }) => {
      const bottom = lo.map((low, k) => Math.max(low, after[0].hi[k]))
      const gone = (k: number) => (hi[k] > EMPTY && hi[k] - bottom[k] > 0.01 ? 1 : undefined)
      return runsOf(hi.length, gone).map(
        ({ first, last }) => `<path d="${outline(first, last, hi, bottom, place)}" fill="url(#c)" stroke="${CUT}"/>`,
      )
    })
    .join('')
}

/** Columns side by side that are of one kind. */
function runsOf<T>(count: number, kind: (k: number) => T | undefined): { first: number; last: number; of: T }[] {
  const runs: { first: number; last: number; of: T }[] = []
  for (let k = 0; k < count; k++) {
    const of = kind(k)
    const open = runs.at(-1)
    if (of === undefined) continue
    if (open && open.last === k - 1 && open.of === of) open.last = k
    else runs.push({ first: k, last: k, of })
  }
  return runs
}

/** The outline of columns from a first to a last; points in a row at one height are left out. */
function outline(first: number, last: number, top: Float32Array, bottom: Float32Array, { x, z, from, cell }: Place) {
  const edge = (heights: Float32Array, forth: boolean) => {
    const points: string[] = []
    for (let n = 0; n <= last - first; n++) {
      const k = forth ? first + n : last - n
      const [back, next] = [heights[k - 1], heights[k + 1]]
      const ends = k === first || k === last
      if (!ends && z(back) === z(heights[k]) && z(next) === z(heights[k])) continue
      const along = from + (k === first ? k : k === last ? k + 1 : k + 0.5) * cell
      points.push(`${x(along)} ${z(heights[k])}`)
      // A single column has two corners.
      if (first === last) points.push(`${x(from + (k + (forth ? 1 : 0)) * cell)} ${z(heights[k])}`)
    }
    return points
  }
  return `M${[...edge(top, true), ...edge(bottom, false)].join('L')}Z`
}

function bitPaths(bit: Bit, [along, tip]: readonly [number, number], high: number, { x, z }: Place): string {
  const profile = profileOf(bit)
  if (!profile) return ''
  const right = underside(profile).map(([out, up]) => [along + out, tip + up] as const)
  const left = [...right].reverse().map(([at, up]) => [2 * along - at, up] as const)
  const flutes = Math.min(tip + bit.cuttingLength, high + 5)
  const body = [...left, ...right, [along + profile.rim, flutes] as const, [along - profile.rim, flutes] as const]
  const shape = (points: readonly (readonly [number, number])[]) =>
    `<path d="M${points.map(([at, up]) => `${x(at)} ${z(up)}`).join('L')}Z" fill="${STEEL}" fill-opacity=".82" stroke="${STEEL_EDGE}"/>`
  const shank = bit.shankDiameter / 2
  const above =
    flutes < high
      ? shape([
          [along - shank, flutes],
          [along + shank, flutes],
          [along + shank, high + 5],
          [along - shank, high + 5],
        ])
      : ''
  const axis = `<path d="M${x(along)} ${z(high + 2)}V${z(tip)}" stroke="${STEEL_EDGE}" stroke-width=".8" stroke-dasharray="7 3 1 3"/>`
  return `${above}${shape(body)}${axis}`
}

/** The right half of a bit's underside from the axis outwards: distance and height over the tip. */
function underside(profile: Profile): [number, number][] {
  const points: [number, number][] = [[0, 0]]
  if (profile.flat > 0) points.push([profile.flat, 0])
  if (profile.corner > 0) {
    for (let n = 1; n <= 12; n++) {
      const out = profile.flat + (profile.arcEnd - profile.flat) * Math.sin((n * Math.PI) / 24)
      points.push([out, heightAt(profile, Math.min(out, profile.arcEnd))])
    }
  }
  if (profile.arcEnd < profile.rim || profile.slope > 0) points.push([profile.rim, profile.top])
  return points
}

/** What is left under the tip, and how deep the tip stands. */
function dimensions({ tip, faceLevel, after, from, cell }: Section, left: number | undefined, { x, z }: Place): string {
  const column = Math.floor((tip[0] - from) / cell)
  const bottom = after.reduce((least, { hi, lo }) => (hi[column] > EMPTY ? Math.min(least, lo[column]) : least), tip[1])
  const parts: string[] = []
  if (left !== undefined && Number.isFinite(left)) {
    const words = left < 0.005 ? 'nothing left' : `${number(left, 2)} left`
    // Over a hollow the wood begins lower than the tip.
    const top = Math.min(tip[1], after[0].hi[column] ?? tip[1])
    if (bottom < top) parts.push(arrow(x(tip[0]), z(top), z(bottom)))
    parts.push(label(x(tip[0]) + 7, (z(Math.max(top, bottom)) + z(bottom)) / 2 + 4, words, 'start'))
  }
  const deep = faceLevel - tip[1]
  if (deep > 0.05) {
    const at = 24
    parts.push(
      `<path d="M${at - 6} ${z(tip[1])}H${x(tip[0])}" stroke="${INK}" stroke-width=".8" stroke-dasharray="2 3"/>`,
    )
    parts.push(arrow(at, z(faceLevel), z(tip[1])))
    parts.push(label(at + 6, (z(faceLevel) + z(tip[1])) / 2 + 4, `${number(deep, 2)} deep`, 'start'))
  }
  return parts.join('')
}

function arrow(at: number, top: number, bottom: number): string {
  const head = Math.min(5, (bottom - top) / 3)
  const tips = `M${round(at - head / 2)} ${round(top + head)}L${at} ${top}L${round(at + head / 2)} ${round(top + head)}M${round(at - head / 2)} ${round(bottom - head)}L${at} ${bottom}L${round(at + head / 2)} ${round(bottom - head)}`
  return `<path d="M${at} ${top}V${bottom}${tips}" fill="none" stroke="${INK}" stroke-width="1.2"/>`
}

/** Words on a strip of paper, so that they read on wood as well. */
function label(x: number, y: number, words: string, anchor: 'start' | 'end'): string {
  return `<text x="${round(x)}" y="${round(y)}" text-anchor="${anchor}" font-weight="600" paint-order="stroke" stroke="${PAPER}" stroke-width="4" stroke-linejoin="round">${words}</text>`
}

/** Which way the section runs, and how long something is in it. */
function scaleBar(scale: number, height: number, { axis, bit }: Section): string {
  const long = [1, 2, 5, 10, 20, 50, 100].find(mm => mm * scale >= 24) ?? 100
  const y = height - EDGE - 4
  const right = WIDTH - EDGE - 2
  const left = round(right - long * scale)
  const bar = `<path d="M${left} ${y - 4}V${y}H${right}V${y - 4}" fill="none" stroke="${INK}" stroke-width="1.2"/>`
  const name = bit.name.length > 30 ? `${bit.name.slice(0, 29)}…` : bit.name
  const words = `${axis.toUpperCase()} to the right; ${escapeText(name)}`
  return `${bar}<text x="${left - 5}" y="${y}" text-anchor="end">${long} mm</text><text x="${EDGE + 2}" y="${y}">${words}</text>`
}

const escapeText = (text: string) => text.replace(/[&<>]/g, c => `&#${c.charCodeAt(0)};`)
