import { type Kind, lineKind, linesOf, programKind, programsIn, withText } from './kind.ts'

const cuts = (line: string): boolean => /[XYIJ][-\d.]/.test(line) && !line.startsWith('(')

/** Slips over several lines, or in what holds for a whole program. */
export const PROGRAM_KINDS: readonly Kind[] = [
  programKind('no feed at all', line => line.replace(/ ?F[\d.]+/g, '')),
  programKind('no speed at all', line => line.replace(/ ?S\d+/g, '')),
  programKind('spindle never switched on', line => line.replace(/M3\b ?/g, '')),
  programKind('every feed times ten', line => line.replace(/F([\d.]+)/g, (_, feed: string) => `F${Number(feed) * 10}`)),
  programKind('speed times ten', line => line.replace(/S(\d+)/g, 'S$10')),
  programKind('speed a tenth', line => line.replace(/S(\d+)0\b/g, 'S$1')),
  programKind('inches for mm or mm for inches', line =>
    line.replace(/G2([01])\b/, (_, unit: string) => (unit === '0' ? 'G21' : 'G20')),
  ),
  programKind('units not said', line => line.replace(/G2[01] /, '')),
  programKind('no end', line => (line === 'M30' ? undefined : line)),
  programKind('clearance sign: every retract below zero', line => line.replace(/^(G0 )?Z(\d)/, '$1Z-$2')),
  lineKind(
    'the first lift left out',
    (line, before) => /^G0 Z/.test(line) && !before.some(b => /^G0/.test(b)),
    () => [],
  ),
  lineKind(
    'the last lift left out',
    (line, before) => /^G0 Z/.test(line) && before.at(-1) === '(up and off)',
    () => [],
  ),
  lineKind(
    'the spindle stopped too soon',
    (line, before) => cuts(line) && before.length > 20,
    line => ['M5', line],
  ),
  lineKind(
    'the program ended too soon',
    (line, before) => cuts(line) && before.length > 20,
    line => ['M30', line],
  ),
  {
    name: 'two lines swapped',
    plant(job, chance) {
      const file = chance.pick(programsIn(job))
      const lines = linesOf(job, file)
      const at = 8 + chance.below(Math.max(1, lines.length - 12))
      if (!lines[at] || !lines[at + 1] || lines[at] === lines[at + 1]) return undefined
      const changed = [...lines.slice(0, at), lines[at + 1], lines[at], ...lines.slice(at + 2)]
      return { files: withText(job, file, changed.join('\n')), file, line: at, lastLine: at + 1 }
    },
  },
  {
    name: 'a block twice',
    plant(job, chance) {
      const file = chance.pick(programsIn(job))
      const lines = linesOf(job, file)
      const at = 10 + chance.below(Math.max(1, lines.length - 30))
      const block = lines.slice(at, at + 6)
      const changed = [...lines.slice(0, at + 6), ...block, ...lines.slice(at + 6)]
      return { files: withText(job, file, changed.join('\n')), file, line: at + 6, lastLine: at + 11 }
    },
  },
  {
    name: 'a block lost',
    plant(job, chance) {
      const file = chance.pick(programsIn(job))
      const lines = linesOf(job, file)
      const at = 10 + chance.below(Math.max(1, lines.length - 30))
      const changed = [...lines.slice(0, at), ...lines.slice(at + 6)]
      return { files: withText(job, file, changed.join('\n')), file, line: at }
    },
  },
  {
    name: 'a level left out',
    plant(job, chance) {
      const file = chance.pick(programsIn(job))
      const lines = linesOf(job, file)
      const heads = lines.flatMap((line, at) => (line.startsWith('(') && at > 12 ? [at] : []))
      if (heads.length < 4) return undefined
      const which = 1 + chance.below(heads.length - 2)
      const changed = [...lines.slice(0, heads[which]), ...lines.slice(heads[which + 1])]
      return { files: withText(job, file, changed.join('\n')), file, line: heads[which] }
    },
  },
  {
    name: 'wrong T word',
    plant(job, chance) {
      const files = programsIn(job).filter(file => /T\d/.test(job.files.get(file) ?? ''))
      if (files.length === 0) return undefined
      const file = chance.pick(files)
      const lines = linesOf(job, file)
      const line = lines.findIndex(own => /T\d/.test(own))
      const other = chance.pick(['1', '2', '3', '4', '7'].filter(t => !lines[line].includes(`T${t}`)))
      const changed = lines.with(line, lines[line].replace(/T\d/, `T${other}`))
      return { files: withText(job, file, changed.join('\n')), file, line }
    },
  },
]
