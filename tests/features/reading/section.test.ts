import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { sectionAt } from '../../../server/src/features/reading/section.ts'
import { drawSection, reachOfDrawing } from '../../../server/src/features/reading/sectionDrawing.ts'
import { leftUnder, solidBelow } from '../../../server/src/features/reading/wood.ts'
import type { Run } from '../../../server/src/job/outcome.ts'
import { cellAt } from '../../../server/src/rules/common/columns.ts'
import { carve } from '../../../server/src/stock/carve.ts'
import { cloneStock, EMPTY, type Layer, type Stock } from '../../../server/src/stock/stock.ts'
import { BOWL_25, FLAT_6, sheetWith } from '../../rules/job.ts'
import { hoverOver, onBench } from './bench.ts'

/** The wood as it stands after so many motions, by running them all again: what the short ways are held to. */
function stockAfter(run: Run, motions: number): Stock {
  const stock = cloneStock(run.before)
  carve(stock, run.program.motions, { shift: run.shift, bitOfState: run.bitOfState, to: motions, plain: true })
  return stock
}

/** A program of random moves near the face of the blank, with a change of bit and a hole. */
const moves = fc.array(
  fc.record({
    x: fc.integer({ min: -5, max: 45 }),
    y: fc.integer({ min: -5, max: 35 }),
    z: fc.integer({ min: -21, max: 3 }),
    kind: fc.constantFrom('G0', 'G1', 'G1', 'G2'),
  }),
  { minLength: 3, maxLength: 14 },
)

const sheet = sheetWith({
  bits: { 1: FLAT_6, 2: { ...BOWL_25, diameter: 12, cornerRadius: 3 } },
  blank: { size: [40, 30, 20] },
  setup: { bit: '1' },
})

function programOf(steps: { x: number; y: number; z: number; kind: string }[]): string {
  const lines = steps.map(({ x, y, z, kind }, n) => {
    const change = n === Math.floor(steps.length / 2) ? 'T2 M6\n' : ''
    return `${change}${kind === 'G2' ? `G2 X${x} Y${y} Z${z} R60` : `${kind} X${x} Y${y} Z${z}`}`
  })
  return ['G21 G90 M3 S16000 F900', 'T1 M6', 'G0 X5 Y5 Z5', ...lines].join('\n')
}

const seed = Date.now() % 100_000

describe('short ways to the wood at a moment', () => {
  test(`what is left under the bit, and a section, are those of a whole run up to there (seed ${seed})`, () => {
    fc.assert(
      fc.property(moves, steps => {
        const { runs } = onBench(programOf(steps), sheet)
        const [run] = runs
        const { motions } = run.program
        for (const motion of [Math.floor(motions.count / 2), motions.count - 1]) {
          const [x, y, z] = [motions.x[motion], motions.y[motion], motions.z[motion]].map((v, n) => v + run.shift[n])
          const after = stockAfter(run, motion + 1)
          const before = stockAfter(run, motion)
          const cell = cellAt(after, x, y)
          const left = leftUnder(run, motion)
          if (cell === undefined) expect(left).toBeUndefined()
          else expect(left).toBeCloseTo(solidBelow(after, cell, z), 2)
          const section = sectionAt(run, motion, motion, 15)
          if (!section) {
            expect(cell).toBeUndefined()
            continue
          }
          const { nx, cell: side } = after.grid
          for (let k = 0; k < section.after[0].hi.length; k++) {
            const along = section.from + (k + 0.5) * side
            const [i, j] = section.axis === 'x' ? [along, section.across] : [section.across, along]
            const index = Math.floor(j / side) * nx + Math.floor(i / side)
            expect(topOf(section.before, k)).toBeCloseTo(topOf(before.layers, index), 2)
            expect(topOf(section.after, k)).toBeCloseTo(topOf(after.layers, index), 2)
          }
        }
      }),
      { seed, numRuns: 12 },
    )
  })
})

const topOf = (layers: readonly Layer[], k: number) => (layers[0].hi[k] > EMPTY ? layers[0].hi[k] : -1)

const slot = ['G21 G90 M3 S16000', 'G0 Z5', 'G0 X30 Y40', 'G1 Z-3 F250', 'G1 X70 F1600', 'G0 Z20', 'M30'].join('\n')

function svgOver(program: string, line: number, words: string, of = sheetWith()): string {
  const markdown = hoverOver(onBench(program, of), line, words, true)?.markdown ?? ''
  const data = /!\[[^\]]*\]\(data:image\/svg\+xml;base64,([A-Za-z0-9+/=]+)\)/.exec(markdown)?.[1]
  return data === undefined ? '' : Buffer.from(data, 'base64').toString()
}

describe('the drawing in a hover', () => {
  test('stands where depth is the matter, and only there', () => {
    expect(svgOver(slot, 3, 'Z-3')).toContain('17 left')
    expect(svgOver(slot, 3, 'Z-3')).toContain('3 deep')
    expect(svgOver(slot, 4, 'G1')).toContain('17 left')
    expect(svgOver(slot, 4, 'X70')).toBe('')
    expect(svgOver(slot, 3, 'F250')).toBe('')
    // High over the wood there is nothing to see.
    expect(svgOver(slot, 5, 'Z20')).toBe('')
    expect(hoverOver(onBench(slot), 3, 'Z-3', true)?.markdown).not.toContain('data:')
  })

  test('is that of the copy with least under the bit, and says so', () => {
    const copies = { A: { thickness: 20 }, B: { thickness: 19.5 } }
    const markdown = hoverOver(onBench(slot, sheetWith({ blank: { copies } })), 3, 'Z-3', true)?.markdown
    expect(markdown).toContain('![Section through blank and bit, copy B]')
    expect(svgOver(slot, 3, 'Z-3', sheetWith({ blank: { copies } }))).toContain('16.5 left')
  })

  test('a hole right through says so', () => {
    const through = slot.replace('Z-3', 'Z-20')
    expect(svgOver(through, 3, 'Z-20')).toContain('nothing left')
  })

  test('is in real proportions: bit, blank and depth by one scale', () => {
    const { runs } = onBench(slot, sheetWith())
    const [run] = runs
    const bit = run.bitOfState[0]!
    const tip = run.faceLevel - 3
    const section = sectionAt(run, 3, 3, reachOfDrawing(bit, tip, run.faceLevel, run.bedLevel))!
    const svg = drawSection(section, 17)
    const bar = /M([\d.]+) ([\d.]+)V[\d.]+H([\d.]+)V[^"]*"[^>]*\/><text[^>]*>(\d+) mm</.exec(svg)!
    const scale = (Number(bar[3]) - Number(bar[1])) / Number(bar[4])
    const [body] = [...svg.matchAll(/<path d="M([\d. L-]*)Z" fill="#c3cbd0"/g)].map(([, d]) => pointsOf(d))
    const wide = Math.max(...body.map(([x]) => x)) - Math.min(...body.map(([x]) => x))
    expect(wide / scale).toBeCloseTo(bit.diameter, 1)
    const [table, face] = [/M8 ([\d.]+)H332" stroke="#a79d90"/, /M8 ([\d.]+)H332" stroke="#362d25"/].map(of => {
      return Number(of.exec(svg)?.[1])
    })
    expect((table - face) / scale).toBeCloseTo(20, 1)
    expect((Math.max(...body.map(([, y]) => y)) - face) / scale).toBeCloseTo(3, 1)
  })

  test('reads on light and dark: it brings its own paper', () => {
    const svg = svgOver(slot, 3, 'Z-3')
    const paper = /<rect width="340" height="\d+" rx="6" fill="(#\w{6})"/.exec(svg)?.[1] ?? ''
    const ink = /font-size="12" fill="(#\w{6})"/.exec(svg)?.[1] ?? ''
    const cut = /fill="url\(#c\)" stroke="(#\w{6})"/.exec(svg)?.[1] ?? ''
    // WCAG 2.1, 1.4.3 and 1.4.11: text 4.5 : 1, shapes 3 : 1.
    expect(contrast(ink, paper)).toBeGreaterThan(4.5)
    expect(contrast(cut, paper)).toBeGreaterThan(3)
    expect(contrast('#46535c', paper)).toBeGreaterThan(3)
    expect(contrast('#7c5c34', paper)).toBeGreaterThan(3)
  })

  test('a name of the sheet is no markup in it', () => {
    const odd = sheetWith({ bits: { 1: { ...FLAT_6, name: '<b>&"6 mm' } } })
    expect(svgOver(slot, 3, 'Z-3', odd)).toContain('&#60;b&#62;&#38;"6 mm')
  })
})

const pointsOf = (d: string) => d.split('L').map(point => point.split(' ').map(Number))

/** Contrast of two colours, WCAG 2.1. */
function contrast(a: string, b: string): number {
  const [light, dark] = [luminance(a), luminance(b)].sort((one, two) => two - one)
  return (light + 0.05) / (dark + 0.05)
}

function luminance(colour: string): number {
  const [r, g, b] = [1, 3, 5].map(at => {
    const c = Number.parseInt(colour.slice(at, at + 2), 16) / 255
    return c <= 0.03928 ? c / 12.92 : ((c + 0.055) / 1.055) ** 2.4
  })
  return 0.2126 * r + 0.7152 * g + 0.0722 * b
}
