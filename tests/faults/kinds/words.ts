import { type Kind, lineKind, replaceOne } from './kind.ts'

const moves = (line: string): boolean => /[XYZIJ][-\d.]/.test(line)
const NUMBER = /([XYZIJ])(-?)(\d*\.?\d+)/g
const isRapidUp = (line: string): boolean => /^(G0 )?Z[\d.]+$/.test(line.trim())

/** A value of a letter changed by a slip of the hand. */
const slip = (name: string, letters: string, by: (sign: string, digits: string) => string | undefined): Kind =>
  lineKind(
    name,
    line => new RegExp(`[${letters}]-?[\\d.]`).test(line) && !/^\s*$/.test(line),
    (line, chance) =>
      replaceOne(line, new RegExp(`([${letters}])(-?)(\\d*\\.?\\d+)`, 'g'), chance, ([all, letter, sign, digits]) => {
        const other = by(sign, digits)
        return other === undefined ? all : letter + other
      }),
  )

const lostSign = (sign: string, digits: string): string | undefined => (sign === '' ? undefined : digits)
const gainedSign = (sign: string, digits: string): string | undefined =>
  sign === '' && Number(digits) !== 0 ? `-${digits}` : undefined
const scaled = (factor: number) => (sign: string, digits: string) =>
  Number(digits) === 0 ? undefined : sign + String(Number((Number(digits) * factor).toPrecision(8)))
const dropped = (sign: string, digits: string): string | undefined =>
  digits.replace('.', '').length < 2 ? undefined : sign + digits.replace(/\d/, '')
const lost = (sign: string, digits: string): string | undefined =>
  digits.includes('.') ? sign + digits.replace('.', '') : undefined
const doubled = (sign: string, digits: string): string => sign + digits[0] + digits
const swapped = (sign: string, digits: string): string | undefined => {
  const match = /^(\d)(\d)/.exec(digits)
  return match && match[1] !== match[2] ? sign + match[2] + match[1] + digits.slice(2) : undefined
}

/** Slips within one word or one line of a program. */
export const WORD_KINDS: readonly Kind[] = [
  slip('sign lost in X or Y', 'XY', lostSign),
  slip('sign lost in Z', 'Z', lostSign),
  slip('sign lost in I or J', 'IJ', lostSign),
  slip('sign gained in X or Y', 'XY', gainedSign),
  slip('sign gained in Z', 'Z', gainedSign),
  slip('sign gained in I or J', 'IJ', gainedSign),
  slip('decimal point one place right', 'XYZ', scaled(10)),
  slip('decimal point one place left', 'XYZ', scaled(0.1)),
  slip('decimal point lost', 'XYZ', lost),
  slip('first digit doubled', 'XYZ', doubled),
  slip('first digit dropped', 'XYZ', dropped),
  slip('two digits swapped', 'XYZ', swapped),
  slip('last digit of a centre off', 'IJ', (sign, digits) => sign + (Number(digits) + 0.5).toFixed(3)),
  slip('a little off in X or Y', 'XY', (sign, digits) => sign + String(Number((Number(digits) + 0.3).toFixed(4)))),
  slip('a hair off in X or Y', 'XY', (sign, digits) => sign + String(Number((Number(digits) + 0.001).toFixed(4)))),
  slip('comma for the decimal point', 'XYZIJ', (sign, digits) =>
    digits.includes('.') ? sign + digits.replace('.', ',') : undefined,
  ),
  slip('letter O for zero', 'XYZ', (sign, digits) =>
    digits.includes('0') ? sign + digits.replace('0', 'O') : undefined,
  ),
  lineKind(
    'Z typed for X or Y',
    line => /[XY][-\d.]/.test(line) && !/Z/.test(line),
    (line, chance) => replaceOne(line, /[XY](?=[-\d.])/g, chance, () => 'Z'),
  ),
  lineKind(
    'X typed for Y',
    line => /Y[-\d.]/.test(line) && !/X/.test(line),
    line => [line.replace(/Y(?=[-\d.])/, 'X')],
  ),
  lineKind(
    'X and Y swapped',
    line => /X.*Y/.test(line),
    line => [line.replace(/[XY](?=[-\d.])/g, letter => (letter === 'X' ? 'Y' : 'X'))],
  ),
  lineKind(
    'I and J swapped',
    line => /[IJ][-\d.]/.test(line),
    line => [line.replace(/[IJ](?=[-\d.])/g, letter => (letter === 'I' ? 'J' : 'I'))],
  ),
  lineKind(
    'centre forgotten',
    line => /G[23]\b/.test(line),
    line => [line.replace(/ ?[IJ]-?[\d.]+/g, '')],
  ),
  lineKind(
    'G0 for G1',
    line => /G1\b/.test(line),
    line => [line.replace(/G1\b/, 'G0')],
  ),
  lineKind(
    'G1 for G0',
    line => /G0\b/.test(line),
    line => [line.replace(/G0\b/, 'G1')],
  ),
  lineKind(
    'G2 for G3 or G3 for G2',
    line => /G[23]\b/.test(line),
    line => [line.replace(/G([23])\b/, (_, way: string) => (way === '2' ? 'G3' : 'G2'))],
  ),
  lineKind(
    'G1 for an arc',
    line => /G[23]\b/.test(line),
    line => [line.replace(/G[23]\b/, 'G1')],
  ),
  lineKind(
    'a motion word lost',
    line => /G[123] /.test(line),
    line => [line.replace(/G[123] /, '')],
  ),
  lineKind(
    'an F word lost',
    line => /F[\d.]/.test(line),
    line => [line.replace(/ ?F[\d.]+/, '')],
  ),
  lineKind(
    'a feed times ten',
    line => /F[\d.]/.test(line),
    line => [line.replace(/F([\d.]+)/, (_, feed: string) => `F${Number(feed) * 10}`)],
  ),
  lineKind(
    'a feed a tenth',
    line => /F[\d.]/.test(line),
    line => [line.replace(/F([\d.]+)/, (_, feed: string) => `F${Number((Number(feed) / 10).toFixed(4))}`)],
  ),
  lineKind('a retract missing', isRapidUp, () => []),
  lineKind('a retract too low', isRapidUp, line => [
    line.replace(/Z([\d.]+)/, (_, z: string) => `Z${Number((Number(z) * 0.1).toFixed(4))}`),
  ]),
  lineKind('a retract into the wood', isRapidUp, line => [line.replace(/Z/, 'Z-')]),
  lineKind('a line deleted', moves, () => []),
  lineKind('a line twice', moves, line => [line, line]),
  lineKind(
    'the text of a comment not closed',
    line => moves(line),
    line => [`${line} (to here`],
  ),
  lineKind(
    'a note without brackets',
    line => moves(line),
    line => [`${line} finish`],
  ),
  lineKind(
    'a word twice',
    line => /X[-\d.]/.test(line),
    line => [line.replace(/(X-?[\d.]+)/, '$1 $1')],
  ),
  lineKind(
    'G91 left on',
    line => moves(line),
    line => ['G91', line],
  ),
  lineKind(
    'wrong plane',
    line => /G17\b/.test(line),
    line => [line.replace(/G17\b/, 'G18')],
  ),
  lineKind(
    'G17 left out after G18',
    line => /G[23]\b/.test(line),
    line => ['G18', line],
  ),
  lineKind(
    'number without its letter',
    line => /[XYZ][-\d.]/.test(line),
    (line, chance) => replaceOne(line, NUMBER, chance, ([, , sign, digits]) => sign + digits),
  ),
]
