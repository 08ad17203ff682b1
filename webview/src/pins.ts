import type { PreviewFinding, PreviewJob } from '../../server/src/features/preview/protocol.ts'
import { GRAVITY } from '../../server/src/rules/rule.ts'
import { pointAsReceived } from '../../server/src/stock/lie.ts'
import type { Moment } from './clock.ts'
import { fileName, make } from './dom.ts'
import type { Spot } from './marks.ts'
import { endOf as endOfMotion } from './motionPath.ts'
import { blankAt, momentOfLine, programAt } from './place.ts'

/** A finding at its place on the blank, blank frame. */
export interface Pinned {
  readonly finding: PreviewFinding
  readonly at: readonly [number, number, number]
}

/** More would cover the piece. */
const MOST = 40

/** Figures that a finding of a job speaks of, by code: where the figure was found is where the pin goes. */
const figures = {
  'depth/thin-floor': 'floor',
  'depth/thin-wall': 'wall',
  'inlay/not-revealed': 'reveal',
  'inlay/left-thin': 'inlayLeft',
} as const

/** The findings that have a place on the blank shown at a moment, the gravest first. */
export function pinsOf(job: PreviewJob, moment: Moment): Pinned[] {
  const blank = blankAt(job, moment.setup)
  if (!blank) return []
  const pins: Pinned[] = []
  const sorted = [...job.findings].sort((a, b) => GRAVITY[b.severity] - GRAVITY[a.severity])
  for (const finding of sorted) {
    const at = placeOf(job, finding, moment, blank.name)
    if (at && pins.length < MOST) pins.push({ finding, at })
  }
  return pins
}

function placeOf(job: PreviewJob, finding: PreviewFinding, now: Moment, blank: string): Pinned['at'] | undefined {
  const figure = figures[finding.code as keyof typeof figures]
  const known = figure && job.figures[figure]?.at
  if (known) {
    const of = blankAt(job, job.setups.length - 1)
    return of?.name === blank ? [known[0], known[1], of.thickness] : undefined
  }
  if (finding.code === 'inlay/too-tight' || finding.code === 'inlay/too-loose') {
    const at = job.figures.fit?.[finding.code === 'inlay/too-tight' ? 'tightest' : 'loosest'].at
    const of = job.blanks.find(each => each.name === blank)
    return at && of ? [at[0], at[1], of.thickness] : undefined
  }
  const moment = momentOfLine(job, now, finding.file, finding.range.start.line, finding.setup)
  const setup = moment && programAt(job, moment.setup)
  if (!moment || !setup || setup.blank !== blank || moment.motion < 0) return undefined
  const end = endOfMotion(setup.motions, moment.motion)
  if (!end.every(Number.isFinite)) return undefined
  const of = job.blanks.find(each => each.name === blank)!
  const [x, y, z] = end.map((value, axis) => value + setup.shift[axis])
  // Far over the wood nobody looks for it.
  const low = Math.min(z, setup.faceLevel + 5)
  return pointAsReceived([x, y, low], setup.lie, of)
}

export interface Pins {
  show(pins: readonly Pinned[]): void
  place(project: (p: readonly [number, number, number]) => Spot | undefined, size: Spot): void
}

/** Pins over the picture; `goTo` is called when one is pressed. */
export function newPins(over: HTMLElement, goTo: (finding: PreviewFinding) => void): Pins {
  const element = make('div', 'pins', '', { role: 'group', 'aria-label': 'Findings at their places' })
  over.append(element)
  let shown: readonly Pinned[] = []
  return {
    show(pins) {
      if (pins.length === shown.length && pins.every((pin, i) => pin.finding === shown[i].finding)) return
      shown = pins
      element.replaceChildren(
        ...pins.map(({ finding }) => {
          const where = `${fileName(finding.file)}, line ${finding.range.start.line + 1}`
          const pin = make('button', `pin ${finding.severity}`, '', {
            type: 'button',
            'aria-label': `${finding.severity}, ${where}: ${finding.message}`,
          })
          const said = make('span', 'pin-said', '', { 'aria-hidden': 'true' })
          said.append(make('span', '', finding.message), make('span', 'where', where))
          pin.append(said)
          pin.addEventListener('click', () => goTo(finding))
          return pin
        }),
      )
    },
    place(project, [width, height]) {
      shown.forEach(({ at }, i) => {
        const pin = element.children[i] as HTMLElement
        const spot = project(at)
        const within = spot && spot[0] > 0 && spot[1] > 0 && spot[0] < width && spot[1] < height
        pin.hidden = !within
        if (!within) return
        pin.style.transform = `translate(${spot[0].toFixed(1)}px, ${spot[1].toFixed(1)}px)`
        pin.classList.toggle('leftwards', spot[0] > width * 0.6)
        pin.classList.toggle('upwards', spot[1] > height * 0.6)
      })
    },
  }
}
