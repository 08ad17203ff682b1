import fc from 'fast-check'
import { parseLine } from 'gcode-parser'
import { expect, test } from 'vitest'
import { scan } from '../../server/src/syntax/scanner.ts'
import { withLineEnd } from '../../server/src/syntax/text.ts'
import { Token, TokenBuffer } from '../../server/src/syntax/tokens.ts'

const SEED = Date.now() % 1_000_000

interface Seen {
  kind: number
  text: string
  value: number
}

function tokens(text: string): Seen[] {
  const bytes = withLineEnd(new TextEncoder().encode(text))
  const buffer = new TokenBuffer()
  scan(bytes, 0, Number.POSITIVE_INFINITY, buffer)
  return Array.from({ length: buffer.count }, (_, i) => ({
    kind: buffer.kind[i],
    text: new TextDecoder().decode(bytes.subarray(buffer.start[i], buffer.end[i])),
    value: buffer.value[i],
  }))
}

const number = fc.oneof(
  fc.tuple(fc.constantFrom('', '-', '+'), fc.integer({ min: 0, max: 99999 })).map(([sign, n]) => `${sign}${n}`),
  fc
    .tuple(fc.constantFrom('', '-', '+'), fc.nat(9999), fc.nat(99999), fc.integer({ min: 0, max: 5 }))
    .map(([sign, n, part, digits]) => `${sign}${n}.${String(part).padStart(5, '0').slice(0, digits)}`),
  fc.nat(999).map(n => `.${n}`),
)
const word = fc.tuple(fc.constantFrom(...'ABCDFGHIJKLMPQRSTXYZabcdfgxyz'), number).map(([letter, n]) => letter + n)
const lines = fc
  .tuple(
    fc.option(
      fc.nat(99999).map(n => `N${n} `),
      { nil: '' },
    ),
    fc.array(fc.tuple(word, fc.constantFrom('', ' ', '  ', '\t')), { minLength: 1, maxLength: 8 }),
    fc.option(
      fc.stringMatching(/^[a-z0-9 .,]{0,12}$/).map(text => `(${text})`),
      { nil: '' },
    ),
    fc.option(
      fc.stringMatching(/^[a-z0-9 .,]{0,12}$/).map(text => `;${text}`),
      { nil: '' },
    ),
  )
  .map(([n, words, comment, remark]) => n + words.map(([a, b]) => a + b).join('') + comment + remark)

test(`words of 10,000 well-formed lines are those of the npm package gcode-parser, seed ${SEED}`, () => {
  fc.assert(
    fc.property(lines, text => {
      const ours = tokens(text)
        .filter(({ kind }) => kind >= 65 && kind !== 78)
        .map(({ kind, value }) => [String.fromCharCode(kind), value + 0])
      const theirs = parseLine(text)
        .words.filter(([letter]) => letter !== 'N')
        .map(([letter, value]) => [letter.toUpperCase(), Number(value) + 0])
      expect(ours).toEqual(theirs)
    }),
    { seed: SEED, numRuns: 10_000 },
  )
})

test(`a number is the double that Number() makes of it, to the last bit, seed ${SEED}`, () => {
  const digits = fc
    .tuple(fc.stringMatching(/^\d{1,25}$/), fc.option(fc.stringMatching(/^\d{0,25}$/), { nil: undefined }))
    .map(([whole, part]) => (part === undefined ? whole : `${whole}.${part}`))
  fc.assert(
    fc.property(digits, text => {
      expect(tokens(`X-${text}`)[0].value).toBe(-Number(text))
    }),
    { seed: SEED, numRuns: 5000 },
  )
})

test(`tokens lie in order, within their line, whatever the bytes, seed ${SEED}`, () => {
  fc.assert(
    fc.property(fc.uint8Array({ maxLength: 300 }), junk => {
      const bytes = withLineEnd(junk)
      const buffer = new TokenBuffer()
      expect(scan(bytes, 0, Number.POSITIVE_INFINITY, buffer)).toBe(bytes.length)
      let at = 0
      for (let i = 0; i < buffer.count; i++) {
        expect(buffer.start[i]).toBeGreaterThanOrEqual(at)
        expect(buffer.end[i]).toBeGreaterThan(buffer.start[i])
        at = buffer.end[i]
      }
    }),
    { seed: SEED, numRuns: 3000 },
  )
})

test.each([
  ['X1,5', Token.badNumber, 'X1,5'],
  ['X--5', Token.badNumber, 'X--5'],
  ['X1.2.3', Token.badNumber, 'X1.2.3'],
  ['XO.5', Token.badNumber, 'XO.5'],
  ['X1O', Token.badNumber, 'X1O'],
  ['X', Token.badNumber, 'X'],
  ['X€3', Token.badNumber, 'X€3'],
  ['X-[3]', Token.badExpression, 'X-[3]'],
  ['X[1+[2]', Token.badExpression, 'X[1+[2]'],
  ['x asim[0.5]', Token.badExpression, 'x asim[0.5]'],
  ['(open', Token.unclosedComment, '(open'],
  ['(a (b) c)', Token.nestedComment, '(a (b) c)'],
  ['@@!', Token.badText, '@@!'],
  ['x sin[30]', Token.expression, 'x sin[30]'],
  ['x atan[1]/[2]', Token.expression, 'x atan[1]/[2]'],
  ['X##2', Token.expression, 'X##2'],
  ['#<depth> = [1 + 2]', Token.setting, '#<depth> = [1 + 2]'],
  ['o<fern> call [1]', Token.flow, 'o<fern> call [1]'],
  ['*57', Token.checksum, '*57'],
])('%s is one token', (text, kind, whole) => {
  const [first, second, third] = tokens(text)
  expect([first.kind, first.text]).toEqual([kind, whole])
  expect(second.kind).toBe(Token.lineEnd)
  expect(third).toBeUndefined()
})
