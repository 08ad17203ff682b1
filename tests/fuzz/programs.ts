import type { Chance } from '../faults/random.ts'
import { SMALL_PROGRAMS } from '../job/workedExample.ts'

const numbers = [
  ...['0', '-0', '1', '-1', '5', '20', '.5', '-.5', '+3', '1.', '.', '-', '1e5', '1..2', '1-2', '0x10', '9e999'],
  ...['99999999999', '-99999999999', '0.000000001', '1'.repeat(60), '#1', '##1', '#<a>', '#<_g>', '#5420', '[1+2]'],
  ...['[1/0]', '[', ']', '[[[1]]]', '[SQRT[-1]]', '[2**1000]', '[#1 MOD 0]', '[ATAN[0]/[0]]', '-[1]', '', ' 1 2', '٣'],
]
const letters = 'GGGGXYZXYZXYZIJKRFSTHDMNPQLABCEUVWO'
const codes = [
  ...['0', '1', '2', '3', '17', '18', '19', '20', '21', '28', '30', '38.2', '40', '41', '42', '43', '49', '53', '54'],
  ...[
    '59.3',
    '64',
    '73',
    '80',
    '81',
    '83',
    '90',
    '91',
    '90.1',
    '91.1',
    '92',
    '92.1',
    '93',
    '94',
    '98',
    '99',
    '4',
    '10',
  ],
]
const lines = [
  ...['%', 'M2', 'M30', 'M5', 'M3 S16000', 'M98 P100 L99999', 'M98 P100', 'M99', 'O100', 'O100 SUB', 'O100 ENDSUB'],
  ...['O100 CALL', 'O100 CALL [1] [2]', 'O1 WHILE [1]', 'O1 ENDWHILE', 'O2 DO', 'O2 WHILE [#1 LT 5]', 'O3 IF [#1]'],
  ...['O3 ELSE', 'O3 ENDIF', 'O4 REPEAT [1000000000]', 'O4 ENDREPEAT', 'O1 BREAK', '#1=[#1+1]', '#<a>=1', '#1=#2=3'],
  ...['(blank: 60 x 40 x 12 mm, zero near-left face)', '(blank: 1e9 x 1 x 1 mm)', '(bit 1: flat 6 mm, 2 flutes)'],
  ...[
    '(bit 1: ball -6 mm)',
    '(allow plunge/rapid: so)',
    '; allow all',
    '(',
    ')',
    '((',
    ';',
    '/G1 X1',
    '//',
    '$H',
    '!',
    '?',
  ],
  ...['G2 X1 Y1 I1 J1', 'G3 X0 Y0 R1', 'G2 I5', 'G2 X1 R1e-9', 'G83 X1 Y1 Z-5 R2 Q0', 'G83 Z-9 R2 Q0.0001 L9999'],
  ...[
    'G10 L2 P1 X1',
    'G92 X0',
    'G41 D1',
    'G1 X1 E5',
    'M104 S200',
    'T1 M6',
    'T999 M6',
    'G1\t\tX1',
    '\u0000',
    '\ufeff',
    '\r',
  ],
  ...[
    '<img src=x onerror=alert(1)>',
    '(</script>)',
    '(constructor)',
    '#<__proto__>=1',
    'O<constructor> CALL',
    '🪵🪵🪵',
  ],
]

/** A text of some lines, most of them nearly right: of words, of the oddest lines, and of pieces of whole programs. */
export function randomProgram(chance: Chance): string {
  if (chance.below(3) === 0) return mutated(chance, chance.pick(Object.values(SMALL_PROGRAMS)))
  const text = Array.from({ length: 1 + chance.below(60) }, () => randomLine(chance))
  if (chance.yes())
    text.unshift(
      '(blank: 60 x 40 x 12 mm, zero near-left face)',
      '(bit 1: flat 6 mm, 2 flutes)',
      'G21 G90 G17 T1',
      'M3 S16000',
    )
  return mutated(chance, text.join(chance.pick(['\n', '\n', '\r\n', '\r'])), 3)
}

function randomLine(chance: Chance): string {
  if (chance.below(4) === 0) return chance.pick(lines)
  if (chance.below(60) === 0) return 'G1 X1 '.repeat(2000)
  const words = Array.from({ length: chance.below(7) }, () => {
    const letter = letters[chance.below(letters.length)]
    const number = letter === 'G' ? chance.pick(codes) : plainNumber(chance)
    return `${chance.below(20) === 0 ? letter.toLowerCase() : letter}${number}`
  })
  return words.join(chance.pick([' ', '', '  ']))
}

function plainNumber(chance: Chance): string {
  return chance.below(5) === 0 ? chance.pick(numbers) : (chance.next() * 80 - 20).toFixed(chance.below(4))
}

/** A text with some places cut, doubled, swapped or overwritten. */
export function mutated(chance: Chance, text: string, most = 12): string {
  let now = text
  for (let count = chance.below(most + 1); count > 0; count--) {
    const at = chance.below(now.length + 1)
    const length = chance.below(chance.yes() ? 4 : 60)
    const piece = now.slice(at, at + length)
    const put = chance.pick([
      '',
      piece + piece,
      chance.pick(numbers),
      chance.pick(lines),
      '\n',
      String.fromCharCode(chance.below(0x300)),
    ])
    now = now.slice(0, at) + put + now.slice(at + length)
  }
  return now
}
