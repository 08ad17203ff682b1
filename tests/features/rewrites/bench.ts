import { readdirSync, readFileSync } from 'node:fs'
import { join } from 'node:path'
import fc from 'fast-check'
import { edited, type Rewritten, type Source, sourceOf } from '../../../server/src/features/rewrites/source.ts'
import { DEFAULT_DIALECT } from '../../../server/src/machine/dialect.ts'
import { readProgram } from '../../../server/src/machine/readProgram.ts'

export const SEED = Number(process.env.SEED ?? Date.now() % 100000)

export const read = (text: string) => readProgram(new TextEncoder().encode(text), { dialect: DEFAULT_DIALECT })

/** A source over whole lines, both counted; the whole text without them. */
export function source(text: string, first?: number, last?: number): Source {
  const whole = sourceOf(text, read(text), DEFAULT_DIALECT)
  return first === undefined ? whole : { ...whole, first, last: last ?? first }
}

/** The text after a rewrite, or a question mark and why there is none. */
export function textAfter(text: string, rewritten: Rewritten): string {
  return 'why' in rewritten ? `? ${rewritten.why}` : edited(text, rewritten.edits)
}

/** The programs of the samples, by folder and name. */
export function samplePrograms(): [string, string][] {
  const root = new URL('../../../samples', import.meta.url).pathname
  return readdirSync(root).flatMap(folder =>
    readdirSync(join(root, folder))
      .filter(name => name.endsWith('.nc'))
      .map((name): [string, string] => [`${folder}/${name}`, readFileSync(join(root, folder, name), 'utf8')]),
  )
}

/** What a random program remembers while it is written: arcs need to know where they begin. */
interface Pen {
  x: number
  y: number
  z: number
  absolute: boolean
}

const places = (n: number, count = 3) => Number(n.toFixed(count))

const step = fc.record({
  kind: fc.constantFrom(
    'rapid',
    'line',
    'line',
    'line',
    'arc',
    'arc',
    'radius',
    'circle',
    'helix',
    'mode',
    'drill',
    'word',
    'note',
  ),
  x: fc.integer({ min: -60000, max: 60000 }).map(n => n / 1000),
  y: fc.integer({ min: -60000, max: 60000 }).map(n => n / 1000),
  z: fc.integer({ min: -8000, max: 5000 }).map(n => n / 1000),
  turn: fc.integer({ min: -350, max: 350 }),
  axes: fc.integer({ min: 1, max: 7 }),
})

/** Programs as hands write them, whose every line is sound: straight moves, arcs by centre and radius, both distances. */
export const soundProgram: fc.Arbitrary<string> = fc
  .record({
    steps: fc.array(step, { minLength: 3, maxLength: 40 }),
    padded: fc.boolean(),
    spaced: fc.boolean(),
    inch: fc.boolean(),
    end: fc.constantFrom('\n', '\r\n'),
  })
  .map(({ steps, padded, spaced, inch, end }) => {
    const pen: Pen = { x: 0, y: 0, z: 10, absolute: true }
    const show = (n: number) => (padded ? n.toFixed(4) : String(places(n, 4)))
    const lines = [`G90 G17 G94 ${inch ? 'G20' : 'G21'}`, 'S12000 M3', 'G0 Z10', 'G0 X0 Y0', 'F800']
    const to = (x: number, y: number, z: number, axes = 7) => {
      const at = [x, y, z].map((v, n) => (axes & (1 << n) ? places(v, 4) : [pen.x, pen.y, pen.z][n]))
      const from = [pen.x, pen.y, pen.z]
      const words = 'XYZ'.split('').flatMap((letter, n) => {
        if (!(axes & (1 << n))) return []
        const written = pen.absolute ? at[n] : places(at[n] - from[n], 4)
        return [letter + show(written)]
      })
      ;[pen.x, pen.y, pen.z] = at
      return words.join(' ')
    }
    for (const { kind, x, y, z, turn, axes } of steps) {
      if (kind === 'rapid') lines.push(`G0 ${to(x, y, z, axes)}`)
      else if (kind === 'line') lines.push(`G1 ${to(x, y, z, axes)}`)
      else if (kind === 'mode') {
        pen.absolute = turn > 0
        lines.push(pen.absolute ? 'G90' : 'G91')
      } else if (kind === 'drill') {
        if (pen.absolute) lines.push(`G81 ${to(x, y, pen.z, 3)} Z-3 R2`, 'G80')
        pen.z = pen.absolute ? Math.max(pen.z, 2) : pen.z
      } else if (kind === 'word') lines.push('F650 (slower)')
      else if (kind === 'note') lines.push('', '(a part)')
      else {
        const [cx, cy] =
          kind === 'circle' ? [places(Math.abs(x) / 10 + 1), places(y / 10)] : [places(x / 4 + 0.5), places(y / 4)]
        const size = Math.hypot(cx, cy)
        const angle = Math.atan2(-cy, -cx) + ((turn === 0 ? 10 : turn) * Math.PI) / 180
        const ex = pen.x + cx + size * Math.cos(angle)
        const ey = pen.y + cy + size * Math.sin(angle)
        const code = turn > 0 ? 'G3' : 'G2'
        if (kind === 'circle') lines.push(`${code} I${show(cx)} J${show(cy)}`)
        else if (kind === 'radius') {
          const r = Math.abs(turn) > 180 ? -size : size
          if (Math.abs(Math.abs(turn) - 180) < 20 || Math.abs(turn) < 5 || Math.abs(turn) > 340)
            lines.push(`G1 ${to(x, y, z, 3)}`)
          else lines.push(`${code} ${to(ex, ey, z, 3)} R${show(r)}`)
        } else if (Math.abs(turn) > 4)
          lines.push(`${code} ${to(ex, ey, z, kind === 'helix' ? 7 : 3)} I${show(cx)} J${show(cy)}`)
      }
    }
    lines.push('G90 G0 Z15', 'M5', 'M30', '')
    return (spaced ? lines : lines.map(line => (line.includes('(') ? line : line.replace(/ /g, '')))).join(end)
  })
