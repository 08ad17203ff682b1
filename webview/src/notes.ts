import type { PreviewFinding, PreviewJob } from '../../server/src/features/preview/protocol.ts'
import type { Figure } from '../../server/src/job/outcome.ts'
import { GRAVITY } from '../../server/src/rules/rule.ts'
import { fileName, make, mm, mm2 } from './dom.ts'

/** Figures of the job as pencil notes at the side, with what was found about each. */
export interface Notes {
  readonly element: HTMLElement
  show(job: PreviewJob): void
  /** What lies under the pointer; undefined: nothing. */
  under(place: { readonly depth: number; readonly thickness: number } | undefined): void
  /** Legends of the surface's layer and of the path's colours, or none. */
  readonly legend: HTMLElement
  readonly pathLegend: HTMLElement
}

interface Note {
  readonly name: string
  readonly value: string
  readonly more: string
  /** Findings that judge this figure. */
  readonly codes: readonly string[]
}

/** Notes in the order in which a maker asks for them. */
function notesOf(job: PreviewJob): Note[] {
  const { floor, wall, reveal, inlayLeft, fit, level, resin, finalVolume } = job.figures
  const notes: Note[] = []
  const add = (name: string, figure: Figure | undefined, codes: readonly string[], more = '') => {
    if (!figure) return
    const range = `${mm(figure.least)} to ${mm(figure.most)} at worst`
    notes.push({ name, value: `${mm(figure.nominal)} mm`, more: [range, more].filter(Boolean).join(', '), codes })
  }
  add('Floor', floor, ['depth/thin-floor'])
  add('Wall', wall, ['depth/thin-wall'])
  add(
    'Reveal',
    reveal,
    ['inlay/not-revealed'],
    reveal && reveal.shown < 0.9995 ? `${Math.round(reveal.shown * 100)} % of the motif shows` : '',
  )
  add('Inlay left', inlayLeft, ['inlay/left-thin', 'inlay/cut-through'])
  if (fit) {
    notes.push({
      name: 'Fit gap',
      value: `${mm(fit.tightest.nominal)} to ${mm(fit.loosest.nominal)} mm`,
      more: fit.mirrored ? 'a side, turned over as it should be' : 'a side; the motif is not mirrored',
      codes: ['inlay/too-tight', 'inlay/too-loose', 'inlay/not-mirrored', 'inlay/corner'],
    })
    notes.push({
      name: 'Under the plug',
      value: `${mm(fit.gapBeneath)} mm`,
      more: 'left open',
      codes: ['inlay/gap-beneath'],
    })
  }
  if (level && Math.abs(level.proud) >= 0.005) {
    const where = level.proud > 0 ? 'proud after levelling' : 'sunk after levelling'
    notes.push({ name: 'Inlay', value: `${mm(Math.abs(level.proud))} mm`, more: where, codes: ['level/leaves-proud'] })
  }
  if (resin) {
    const more = `${Math.round(resin.mass)} g in ${resin.pours === 1 ? 'one pour' : `${resin.pours} pours`}`
    notes.push({ name: 'Resin', value: `${(resin.withOverfill / 1000).toFixed(1)} ml`, more, codes: [] })
  }
  if (finalVolume) {
    notes.push({
      name: 'The piece',
      value: `${Math.round(finalVolume / 1000)} cm³`,
      more: 'of wood, finished',
      codes: [],
    })
  }
  return notes
}

const mark = { error: 'will spoil the work', warning: 'look at this', information: 'worth a look' } as const

/** The notes; `goTo` is called when a finding is chosen. */
export function newNotes(goTo: (finding: PreviewFinding) => void): Notes {
  const element = make('aside', 'notes', '', { 'aria-label': 'Figures of the job' })
  const legend = make('div', 'legend')
  const pathLegend = make('div', 'legend')
  legend.hidden = pathLegend.hidden = true
  const place = make('p', 'place')
  return {
    element,
    legend,
    pathLegend,
    under(at) {
      place.textContent = at ? `Here: ${mm(at.depth)} mm deep, ${mm(at.thickness)} mm thick` : ''
    },
    show(job) {
      const wide = matchMedia('(min-width: 46em)').matches
      const figures = make('details', 'figures')
      figures.open = wide
      const notes = notesOf(job)
      const list = make('dl')
      for (const note of notes) {
        const worst = job.findings
          .filter(finding => note.codes.includes(finding.code))
          .sort((a, b) => GRAVITY[b.severity] - GRAVITY[a.severity])[0]
        const row = make('div', worst ? `note ${worst.severity}` : 'note')
        const value = make('dd', 'value', note.value)
        row.append(make('dt', '', note.name), value)
        if (worst) row.append(make('dd', 'mark', mark[worst.severity]))
        row.append(make('dd', 'more', note.more))
        list.append(row)
      }
      figures.append(make('summary', '', 'Figures'), list)
      if (!notes.length)
        list.append(make('p', 'more', 'No figures: the job makes no cavity or inlay that could be measured.'))
      const copies = copiesOf(job)
      if (copies) figures.append(copies)
      element.replaceChildren(figures, findingsOf(job, goTo, wide), legend, pathLegend, place)
    },
  }
}

/** The figures of all copies side by side; nothing where there is one only. */
function copiesOf(job: PreviewJob): HTMLElement | undefined {
  const all = job.figuresOfCopies
  if (all.length < 2) return undefined
  const table = make('table', 'copies')
  const head = make('tr')
  head.append(make('th', '', 'Copies', { scope: 'col' }))
  for (const { copy } of all) {
    head.append(make('th', copy === job.copy ? 'current' : '', copy || 'the blank', { scope: 'col' }))
  }
  table.append(head)
  const row = (name: string, value: (of: (typeof all)[number]) => number | undefined, say = mm2) => {
    const values = all.map(value)
    if (values.every(each => each === undefined)) return
    const line = make('tr')
    line.append(make('th', '', name, { scope: 'row' }))
    values.forEach((each, i) => {
      const cell = make('td', all[i].copy === job.copy ? 'current' : '', each === undefined ? '\u2013' : say(each))
      line.append(cell)
    })
    table.append(line)
  }
  row('Thickness', ({ thickness }) => thickness || undefined)
  row('Floor', ({ figures }) => figures.floor?.nominal)
  row('Wall', ({ figures }) => figures.wall?.nominal)
  row('Reveal', ({ figures }) => figures.reveal?.nominal)
  row('Inlay left', ({ figures }) => figures.inlayLeft?.nominal)
  row('Tightest gap', ({ figures }) => figures.fit?.tightest.nominal)
  if (all.some(({ found }) => found > 0)) row('Things found', ({ found }) => found, String)
  return table
}

const things = (count: number) => (count === 1 ? '1 thing found' : `${count} things found`)

/** What is wrong with another copy is not to be overlooked because this one is sound. */
function nothingFound({ copy, figuresOfCopies }: PreviewJob): string {
  const others = figuresOfCopies.filter(other => other.copy !== copy && other.found > 0)
  if (others.length === 0) return 'Nothing found amiss.'
  return [
    `Nothing found amiss in copy ${copy}.`,
    ...others.map(other => `Copy ${other.copy}: ${things(other.found)}.`),
  ].join(' ')
}

function findingsOf(job: PreviewJob, goTo: (finding: PreviewFinding) => void, wide: boolean): HTMLElement {
  const sorted = [...job.findings].sort((a, b) => GRAVITY[b.severity] - GRAVITY[a.severity])
  const details = make('details', 'findings')
  details.open = wide && sorted.length > 0 && sorted.length <= 4
  if (!sorted.length) return make('p', 'findings none', nothingFound(job))
  const count = things(sorted.length)
  details.append(make('summary', '', count))
  const list = make('ul')
  for (const finding of sorted.slice(0, 200)) {
    const item = make('li', finding.severity)
    const button = make('button', 'finding', '', { type: 'button' })
    const where = `${fileName(finding.file)}, line ${finding.range.start.line + 1}`
    button.append(make('span', 'message', finding.message), make('span', 'where', `${where} · ${finding.code}`))
    button.addEventListener('click', () => goTo(finding))
    item.append(button)
    list.append(item)
  }
  details.append(list)
  return details
}
