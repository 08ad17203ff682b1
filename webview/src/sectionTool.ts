import type { SectionPlane } from '../../server/src/features/preview/protocol.ts'
import { make, mm2 } from './dom.ts'
import type { Marks, Spot } from './marks.ts'
import type { Blank } from './place.ts'
import type { Section } from './section.ts'
import type { Dimension } from './sectionFigures.ts'

/** Cuts the piece open: which way, where, and what is written on the cut. */
export interface SectionTool {
  readonly button: HTMLButtonElement
  readonly panel: HTMLElement
  /** Undefined while the piece is whole. */
  plane(): SectionPlane | undefined
  /** The blank that is cut: the plane stays within it. */
  fit(blank: Blank): void
  /** Opens or closes the tool, with a plane that was kept. */
  set(plane: SectionPlane | undefined): void
  written(section: Section | undefined): void
  /** Draws what is written where `project` has it. */
  draw(marks: Marks, project: (p: readonly [number, number, number]) => Spot | undefined): void
  /** What is written on the cut, as a sentence. */
  words(): string
}

export interface SectionEvents {
  /** The plane moved, or the tool was opened or closed. */
  moved(): void
  /** Turn the piece so that the cut is seen squarely. */
  face(axis: SectionPlane['axis']): void
  /** How many mm the plane goes for a way in the picture; `grip` is where it is held. */
  along(axis: SectionPlane['axis'], grip: readonly [number, number, number], dx: number, dy: number): number
}

const names: Record<Dimension['kind'], string> = {
  floor: 'Floor',
  wall: 'Wall',
  inlayLeft: 'Inlay left',
  reveal: 'Reveal',
}

export function newSectionTool(over: HTMLElement, events: SectionEvents): SectionTool {
  const button = make('button', 'tool', 'Cut open', {
    type: 'button',
    'aria-pressed': 'false',
    'aria-expanded': 'false',
  })
  const panel = make('div', 'panel', '', { role: 'group', 'aria-label': 'Cut open' })
  panel.hidden = true
  const ways = make('div', 'ways', '', { role: 'group', 'aria-label': 'The cut moves along' })
  const wayButtons = (['x', 'y'] as const).map(axis => {
    const way = make('button', 'way', `along ${axis.toUpperCase()}`, { type: 'button' })
    way.addEventListener('click', () => {
      if (blank) place = { axis, at: (axis === 'x' ? blank.width : blank.depth) / 2 }
      moved()
      events.face(axis)
    })
    ways.append(way)
    return way
  })
  const range = make('input', 'where', '', { type: 'range', 'aria-label': 'Place of the cut', step: '0.1', min: '0' })
  const number = make('output', 'number')
  const square = make('button', 'square', 'Look at it squarely', { type: 'button' })
  const list = make('dl', 'written')
  panel.append(ways, range, number, square, list)
  // The handle is for the hand; the slider does the same by keys.
  const grip = make('div', 'grip', '', { 'aria-hidden': 'true' })
  grip.hidden = true
  over.append(grip)
  let blank: Blank | undefined
  let place: SectionPlane | undefined
  let open = false
  let section: Section | undefined

  const length = (axis: SectionPlane['axis']) => (blank ? (axis === 'x' ? blank.width : blank.depth) : 1)
  const clamp = () => {
    if (place && blank)
      place = { axis: place.axis, at: Math.min(length(place.axis), Math.max(0, Math.round(place.at * 100) / 100)) }
  }
  function show() {
    clamp()
    button.setAttribute('aria-pressed', String(open))
    button.setAttribute('aria-expanded', String(open))
    panel.hidden = !open
    grip.hidden = !open
    if (!place) return
    wayButtons.forEach((way, i) => {
      way.setAttribute('aria-pressed', String(place!.axis === (['x', 'y'] as const)[i]))
    })
    range.max = String(length(place.axis))
    range.value = String(place.at)
    number.textContent = `${place.axis.toUpperCase()} ${mm2(place.at)} mm`
    range.setAttribute('aria-valuetext', number.textContent)
  }
  function moved() {
    section = undefined
    show()
    events.moved()
  }
  button.addEventListener('click', () => {
    open = !open
    if (blank) place ??= { axis: 'y', at: blank.depth / 2 }
    moved()
  })
  range.addEventListener('input', () => {
    if (place) place = { axis: place.axis, at: Number(range.value) }
    moved()
  })
  square.addEventListener('click', () => place && events.face(place.axis))

  let held: { x: number; y: number; at: number } | undefined
  grip.addEventListener('pointerdown', event => {
    if (!place) return
    event.preventDefault()
    grip.setPointerCapture(event.pointerId)
    held = { x: event.clientX, y: event.clientY, at: place.at }
  })
  grip.addEventListener('pointermove', event => {
    if (!held || !place) return
    const by = events.along(place.axis, gripAt(), event.clientX - held.x, event.clientY - held.y)
    place = { axis: place.axis, at: held.at + by }
    held = { x: event.clientX, y: event.clientY, at: place.at }
    moved()
  })
  const letGo = () => (held = undefined)
  grip.addEventListener('pointerup', letGo)
  grip.addEventListener('pointercancel', letGo)

  /** The handle stands where the cut comes to the near or to the right edge of the upper face, clear of the tools. */
  function gripAt(): [number, number, number] {
    const { axis, at } = place!
    return onPlane({ axis, at }, axis === 'x' ? 0 : blank!.width, blank!.thickness)
  }

  return {
    button,
    panel,
    plane: () => (open ? place : undefined),
    fit(next) {
      blank = next
      show()
    },
    set(plane) {
      open = !!plane
      place = plane ?? place
      show()
    },
    written(next) {
      section = next
      list.replaceChildren()
      for (const { kind, value } of next?.dimensions ?? []) {
        const row = make('div', 'note')
        row.append(make('dt', '', names[kind]), make('dd', 'value', `${mm2(value)} mm`))
        list.append(row)
      }
      if (next && !next.dimensions.length) list.append(make('p', 'more', 'No cavity is cut here.'))
    },
    words() {
      if (!open || !section) return ''
      const said = section.dimensions.map(({ kind, value }) => `${names[kind].toLowerCase()} ${mm2(value)} mm`)
      return `Cut open at ${section.axis.toUpperCase()} ${mm2(section.at)} mm: ${said.join(', ') || 'no cavity here'}.`
    },
    draw(marks, project) {
      if (!open || !place || !blank) return
      const at = project(gripAt())
      grip.hidden = !at
      if (at) {
        grip.style.transform = `translate(${at[0].toFixed(1)}px, ${at[1].toFixed(1)}px)`
        grip.classList.toggle('of-x', place.axis === 'x')
      }
      if (!section || section.axis !== place.axis || section.at !== place.at) return
      for (const { kind, value, from, to } of section.dimensions) {
        const a = project(onPlane(section, ...from))
        const b = project(onPlane(section, ...to))
        if (a && b) marks.dimension(a, b, `${names[kind].toLowerCase()} ${mm2(value)}`)
      }
    },
  }
}

function onPlane({ axis, at }: SectionPlane, s: number, z: number): [number, number, number] {
  return axis === 'x' ? [at, s, z] : [s, at, z]
}
