import { mm, number } from '../../rules/common/wording.ts'
import type { SetupChange } from './changes.ts'
import type { ChangedPlace } from './places.ts'

/** More places than these are not read. */
const MOST_PLACES = 12

/** What an edit changes, as a page to read (Markdown). Names come from the sheet and are put as plain text. */
export function changeReport(program: string, since: string, changes: readonly SetupChange[]): string {
  const lines = [`# What changed in ${plain(program)}`, '', `Compared with ${plain(since)}.`]
  for (const change of changes) lines.push('', ...sectionOf(change))
  return `${lines.join('\n')}\n`
}

function sectionOf({ setup, copy, cut, time, deepest }: SetupChange): string[] {
  const lines = [`## ${plain(setup)}${copy === '' ? '' : `, copy ${plain(copy)}`}`, '']
  if (!cut) lines.push('The wood cannot be compared: the blank or a bit is another.', '')
  else if (cut.more + cut.less === 0) lines.push('It leaves the same wood.', '')
  else {
    lines.push(`- cut more: ${volume(cut.more)}`, `- cut less: ${volume(cut.less)}`)
  }
  const [was, is] = time
  lines.push(
    `- time: ${duration(is)}${Math.abs(is - was) < 0.5 ? ', as before' : `, ${duration(Math.abs(is - was))} ${is > was ? 'more' : 'less'}`}`,
  )
  if (deepest[1] !== undefined) {
    const change = deepest[0] === undefined ? '' : deepest[1] - deepest[0]
    const than =
      change === ''
        ? ''
        : Math.abs(change) < 1e-3
          ? ', as before'
          : `, ${mm(Math.abs(change))} ${change > 0 ? 'deeper' : 'less deep'}`
    lines.push(`- deepest: ${mm(deepest[1])} below the face${than}`)
  }
  if (!cut || cut.places.length === 0) return lines
  lines.push('', '| where (blank frame) | what | volume | at most |', '|---|---|---|---|')
  for (const place of cut.places.slice(0, MOST_PLACES)) lines.push(rowOf(place))
  const rest = cut.places.length - MOST_PLACES
  if (rest > 0) lines.push('', `And ${rest} smaller places.`)
  if (cut.specks > 0)
    lines.push('', `Besides, ${cut.specks} specks along walls that moved by less than the model tells apart.`)
  return lines
}

function rowOf({ way, volume: size, deepest, at, box: [[x0, y0], [x1, y1]] }: ChangedPlace): string {
  const where = `X ${number(x0, 1)} to ${number(x1, 1)}, Y ${number(y0, 1)} to ${number(y1, 1)}`
  const what = way === 'more' ? 'deeper or wider' : 'shallower or narrower'
  return `| ${where} | ${what} | ${volume(size)} | ${mm(deepest)} at X${number(at[0], 1)} Y${number(at[1], 1)} |`
}

const volume = (mm3: number) => (mm3 >= 1000 ? `${number(mm3 / 1000, 2)} cm³` : `${number(mm3, 1)} mm³`)

function duration(seconds: number): string {
  const whole = Math.round(seconds)
  return whole < 60 ? `${whole} s` : `${Math.floor(whole / 60)} min ${whole % 60} s`
}

/** Without what Markdown would take for markup. */
const plain = (text: string) => text.replace(/[\\`*_{}[\]<>#|!]/g, '\\$&').replace(/\s+/g, ' ')
