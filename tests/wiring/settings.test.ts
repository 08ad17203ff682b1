import { readFileSync } from 'node:fs'
import { expect, test } from 'vitest'
import { LIMITS, USUAL } from '../../server/src/job/reading/defaults.ts'
import { settingsOf } from '../../server/src/wiring/settings.ts'

const read = (name: string) => JSON.parse(readFileSync(new URL(`../../${name}`, import.meta.url), 'utf8'))

interface Property {
  readonly scope: string
  readonly default: unknown
  readonly markdownDescription: string
}
const properties: [string, Property][] = read('package.json').contributes.configuration.flatMap(
  (group: { properties: Record<string, Property> }) => Object.entries(group.properties),
)

test('the editor offers every limit with the default that is in force without it', () => {
  const offered = properties.filter(([name]) => name.startsWith('treen.limits.'))
  const defaults = Object.fromEntries(
    offered.map(([name, { default: value }]) => [name.slice('treen.limits.'.length), value]),
  )
  expect(defaults).toEqual(LIMITS)
})

test('every setting can be set for a folder, and is explained', () => {
  const texts = read('package.nls.json')
  expect(properties.length).toBeGreaterThan(8)
  for (const [name, { scope, markdownDescription }] of properties) {
    // A folder must not let its own sheets out of itself.
    expect(scope, name).toBe(name === 'treen.programsAnywhere' ? 'machine' : 'resource')
    expect(texts[markdownDescription.slice(1, -1)], name).toBeTypeOf('string')
  }
})

test('what does not fit counts as not set', () => {
  const odd: unknown[] = [
    undefined,
    null,
    7,
    'floor',
    [],
    { severity: 3, dialect: 4, limits: 'x' },
    { severity: { 'plunge/rapid': 'grave' }, dialect: 'other', limits: { floor: '3', flor: 3, clearance: [1] } },
    { limits: { clearance: [0.2, 0.1], wall: Number.NaN } },
  ]
  for (const written of odd)
    expect(settingsOf(written, [])).toEqual({
      severity: {},
      dialect: USUAL.dialect,
      limits: LIMITS,
      roots: [],
      largestText: 20e6,
    })
})

test('what fits is taken beside what does not', () => {
  const { limits, severity, dialect } = settingsOf(
    {
      severity: { 'plunge/rapid': 'off', 'plunge/too-fast': 'grave' },
      dialect: 'compact',
      limits: { floor: 3, wall: '6', clearance: [-0.02, 0.1] },
    },
    [],
  )
  expect(limits).toEqual({ ...LIMITS, floor: 3, clearance: [-0.02, 0.1] })
  expect(severity).toEqual({ 'plunge/rapid': 'off' })
  expect(dialect).toEqual({ base: 'compact', add: [], remove: [] })
})
