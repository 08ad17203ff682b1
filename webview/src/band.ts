import type { PreviewJob } from '../../server/src/features/preview/protocol.ts'
import { type BandScale, bandScale } from './bandScale.ts'
import { type Clock, type Moment, sayTime } from './clock.ts'
import { make } from './dom.ts'

/** The work band: the whole job as one stick of wood, marked off in pencil at each set-up. */
export interface Band {
  readonly element: HTMLElement
  show(job: PreviewJob, clock: Clock): void
  /** `words`: what is said of the moment. */
  at(moment: Moment, words: string): void
  layOut(): void
  /** The end of the next line's motions, or of the line before. */
  lineFrom(moment: Moment, way: 1 | -1): Moment
}

/** Least length of a set-up on the band, px. */
const LEAST = 46
const steps: Record<string, 'on' | 'back' | 'next' | 'before' | 'first' | 'last'> = {
  ArrowRight: 'on',
  ArrowUp: 'on',
  ArrowLeft: 'back',
  ArrowDown: 'back',
  PageUp: 'next',
  PageDown: 'before',
  Home: 'first',
  End: 'last',
}

/** The band; `go` is called with the moment that was chosen. */
export function newBand(go: (moment: Moment) => void): Band {
  const element = make('div', 'band')
  const stick = make('div', 'stick', '', {
    role: 'slider',
    tabindex: '0',
    'aria-label': 'Place in the job',
    'aria-orientation': 'horizontal',
    'aria-valuemin': '0',
    'aria-describedby': 'band-keys',
  })
  const keys = make(
    'p',
    'unseen',
    'Left and right step by one motion, up and down by one line of the program, page up and page down by one set-up, home and end go to the ends.',
    { id: 'band-keys' },
  )
  const done = make('div', 'done')
  const knife = make('div', 'knife')
  const parts = make('div', 'parts')
  stick.append(done, parts, knife)
  element.append(stick, keys)
  let job: PreviewJob | undefined
  let clock: Clock | undefined
  let scale: BandScale | undefined
  let moment: Moment = { setup: 0, motion: -1, share: 1 }

  const place = () => {
    if (!clock || !scale) return
    const x = scale.placeOf(clock.secondsOf(moment))
    done.style.width = `${x}px`
    knife.style.transform = `translateX(${x}px)`
  }

  function layOut() {
    if (!job || !clock) return
    scale = bandScale(clock.starts, stick.clientWidth, LEAST)
    parts.replaceChildren()
    job.setups.forEach((setup, i) => {
      const part = make('div', `part ${setup.kind}`)
      const width = scale!.edges[i + 1] - scale!.edges[i]
      part.style.left = `${scale!.edges[i]}px`
      part.style.width = `${width}px`
      part.title = setup.name
      part.append(make('span', 'name', setup.name))
      if (setup.kind === 'program') {
        part.append(make('span', 'long', sayTime(clock!.starts[i + 1] - clock!.starts[i])))
        for (const second of operationStarts(setup, clock!.ends(i))) {
          const tick = make('i', 'tick')
          tick.style.left = `${(second / (clock!.starts[i + 1] - clock!.starts[i])) * 100}%`
          part.append(tick)
        }
      } else part.append(make('span', 'long', byHand(setup.kind)))
      parts.append(part)
    })
    place()
  }

  let held = false
  const seek = (event: PointerEvent) => {
    if (!clock || !scale) return
    const box = stick.getBoundingClientRect()
    go(clock.at(scale.secondsAt(event.clientX - box.left - stick.clientLeft)))
  }
  stick.addEventListener('pointerdown', event => {
    held = true
    stick.setPointerCapture(event.pointerId)
    seek(event)
  })
  stick.addEventListener('pointermove', event => held && seek(event))
  stick.addEventListener('pointerup', () => (held = false))
  stick.addEventListener('pointercancel', () => (held = false))
  stick.addEventListener('keydown', event => {
    const step = steps[event.key]
    if (!step || !job || event.ctrlKey || event.metaKey || event.altKey) return
    event.preventDefault()
    if (event.key === 'ArrowUp' || event.key === 'ArrowDown')
      return go(stepByLine(job, moment, event.key === 'ArrowUp' ? 1 : -1))
    go(stepFrom(job, moment, step, event.shiftKey ? 10 : 1))
  })

  return {
    element,
    layOut,
    lineFrom: (from, way) => (job ? stepByLine(job, from, way) : from),
    show(nextJob, nextClock) {
      job = nextJob
      clock = nextClock
      stick.setAttribute('aria-valuemax', String(Math.round(clock.total)))
      layOut()
    },
    at(next, words) {
      moment = next
      if (clock) stick.setAttribute('aria-valuenow', String(Math.round(clock.secondsOf(moment))))
      stick.setAttribute('aria-valuetext', words)
      parts.childNodes.forEach((part, i) => {
        ;(part as HTMLElement).classList.toggle('current', i === moment.setup)
      })
      place()
    },
  }
}

function byHand(kind: 'insert' | 'saw' | 'hand'): string {
  return { insert: 'set in', saw: 'sawn', hand: 'by hand' }[kind]
}

/** Seconds into the set-up at which its operations begin, the first left out: it is the set-up's own edge. */
function operationStarts(
  setup: Extract<PreviewJob['setups'][number], { kind: 'program' }>,
  ends: Float64Array,
): number[] {
  const starts: number[] = []
  for (const operation of setup.operations.slice(1)) {
    const motion = setup.motions.line.findIndex(line => line >= operation.firstLine)
    if (motion > 0) starts.push(ends[motion - 1])
  }
  return starts
}

/** The end of the motions of the next line, or of the line before; on through all set-ups. */
function stepByLine(job: PreviewJob, moment: Moment, way: 1 | -1): Moment {
  const setup = job.setups[moment.setup]
  const step = (from: Moment) => stepFrom(job, from, way > 0 ? 'on' : 'back', 1)
  if (setup?.kind !== 'program') return step(moment)
  const { line, count } = setup.motions
  let { motion } = moment
  if (way > 0) {
    const first = step(moment)
    if (first.setup !== moment.setup) return first
    motion = first.motion
    while (motion + 1 < count && line[motion + 1] === line[motion]) motion++
    return { setup: moment.setup, motion, share: 1 }
  }
  if (motion < 0) return step(moment)
  const own = line[motion]
  while (motion >= 0 && line[motion] === own) motion--
  return { setup: moment.setup, motion, share: 1 }
}

/** The moment that a key leads to: motion by motion on through all set-ups, or set-up by set-up. */
export function stepFrom(
  job: PreviewJob,
  moment: Moment,
  step: 'on' | 'back' | 'next' | 'before' | 'first' | 'last',
  by: number,
): Moment {
  const last = job.setups.length - 1
  if (last < 0) return moment
  const motionsOf = (i: number) => {
    const setup = job.setups[i]
    return setup.kind === 'program' ? setup.motions.count : 0
  }
  const endOf = (i: number): Moment => ({ setup: i, motion: motionsOf(i) - 1, share: 1 })
  switch (step) {
    case 'first':
      return { setup: 0, motion: -1, share: 1 }
    case 'last':
      return endOf(last)
    case 'next':
      return moment.motion < motionsOf(moment.setup) - 1 ? endOf(moment.setup) : endOf(Math.min(last, moment.setup + 1))
    case 'before':
      return moment.motion >= 0
        ? { setup: moment.setup, motion: -1, share: 1 }
        : { setup: Math.max(0, moment.setup - 1), motion: -1, share: 1 }
    case 'on': {
      const motion = moment.share < 1 ? moment.motion : moment.motion + by
      if (motion < motionsOf(moment.setup)) return { setup: moment.setup, motion, share: 1 }
      if (moment.motion < motionsOf(moment.setup) - 1 || moment.setup === last) return endOf(moment.setup)
      return { setup: moment.setup + 1, motion: -1, share: 1 }
    }
    case 'back': {
      const motion = moment.motion - by
      if (motion >= -1) return { setup: moment.setup, motion, share: 1 }
      if (moment.motion > -1 || moment.setup === 0) return { setup: moment.setup, motion: -1, share: 1 }
      return endOf(moment.setup - 1)
    }
  }
}
