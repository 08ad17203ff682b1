import { make, mm2 } from './dom.ts'
import type { Marks, Spot } from './marks.ts'
import type { Place } from './snap.ts'

/** Measures from place to place, by pointer or by a cross that the arrow keys move. */
export interface MeasureTool {
  readonly button: HTMLButtonElement
  readonly panel: HTMLElement
  on(): boolean
  /** A place was pointed at. */
  take(place: Place | undefined): void
  /** Where the cross stands in the picture, CSS pixels; undefined while it is not used. */
  cross(): Spot | undefined
  /** A key pressed on the picture; true where it was for this tool. */
  key(event: KeyboardEvent): boolean
  /** The wood changed: what was taken is no longer there. */
  forget(): void
  draw(marks: Marks, project: (p: readonly [number, number, number]) => Spot | undefined): void
  words(): string
}

export interface MeasureEvents {
  /** Something to be drawn changed. */
  changed(): void
  /** The cross was pressed at a place of the picture. */
  pressed(x: number, y: number): void
  /** Size of the picture, CSS pixels. */
  size(): Spot
  copied(done: boolean): void
}

const where: Record<Place['on'], string> = {
  floor: 'on the floor',
  wall: 'on the wall',
  corner: 'at the foot or head of a wall',
  surface: 'on the surface',
}
const STEP = 12

export function newMeasureTool(events: MeasureEvents): MeasureTool {
  const button = make('button', 'tool', 'Measure', {
    type: 'button',
    'aria-pressed': 'false',
    'aria-expanded': 'false',
  })
  const panel = make('div', 'panel', '', { role: 'group', 'aria-label': 'Measure' })
  panel.hidden = true
  const first =
    'Point at a place, then at another. By keys, on the picture: arrows move a cross, Enter takes the place.'
  const said = make('p', 'said', first, { 'aria-live': 'polite' })
  const copy = make('button', '', 'Copy the numbers', { type: 'button' })
  const again = make('button', '', 'Start again', { type: 'button' })
  const row = make('div', 'row')
  row.append(copy, again)
  panel.append(said, row)
  let open = false
  let from: Place | undefined
  let to: Place | undefined
  let cross: [number, number] | undefined

  const show = () => {
    button.setAttribute('aria-pressed', String(open))
    button.setAttribute('aria-expanded', String(open))
    panel.hidden = !open
    copy.disabled = again.disabled = !from
    said.textContent = words() || first
    events.changed()
  }
  const set = (on: boolean) => {
    open = on
    from = to = cross = undefined
    show()
  }
  const words = () => {
    if (!from) return ''
    if (!to) return sayPlace(from)
    const [dx, dy, dz] = to.at.map((value, axis) => value - from!.at[axis])
    const apart = Math.hypot(dx, dy, dz)
    const parts = `X ${mm2(dx)}, Y ${mm2(dy)}, Z ${mm2(dz)}`
    return `${mm2(apart)} mm apart (${parts}). From ${sayPlace(from)} To ${sayPlace(to)}`
  }
  button.addEventListener('click', () => set(!open))
  again.addEventListener('click', () => {
    from = to = undefined
    show()
  })
  copy.addEventListener('click', () => {
    void copyText(words()).then(events.copied)
  })

  return {
    button,
    panel,
    on: () => open,
    cross: () => cross,
    words,
    take(place) {
      if (!open) return
      if (!place) {
        said.textContent = 'There is no wood there.'
        return
      }
      if (!from || to) {
        from = place
        to = undefined
      } else to = place
      show()
    },
    forget() {
      if (!from) return
      from = to = undefined
      show()
    },
    key(event) {
      if (!open || event.ctrlKey || event.metaKey || event.altKey) return false
      const step = event.shiftKey ? 1 : STEP
      const [width, height] = events.size()
      const way = { ArrowLeft: [-step, 0], ArrowRight: [step, 0], ArrowUp: [0, -step], ArrowDown: [0, step] }[event.key]
      if (way) {
        cross ??= [width / 2, height / 2]
        cross = [Math.min(width, Math.max(0, cross[0] + way[0])), Math.min(height, Math.max(0, cross[1] + way[1]))]
        events.changed()
        return true
      }
      if (event.key === 'Enter') {
        cross ??= [width / 2, height / 2]
        events.pressed(...cross)
        return true
      }
      if (event.key === 'Escape') {
        set(false)
        return true
      }
      return false
    },
    draw(marks, project) {
      if (!open) return
      if (cross) {
        const [x, y] = cross
        marks.line([x - 12, y], [x + 12, y])
        marks.line([x, y - 12], [x, y + 12])
      }
      const a = from && project(from.at)
      const b = to && project(to.at)
      if (a && b && from && to) {
        marks.dimension(a, b, mm2(Math.hypot(...to.at.map((value, axis) => value - from!.at[axis]))))
      }
      for (const spot of [a, b]) if (spot) marks.dot(spot)
    },
  }
}

function sayPlace({ at, on, depth, thickness }: Place): string {
  const [x, y] = at
  return `X ${mm2(x)} Y ${mm2(y)}, ${where[on]}: ${mm2(depth)} mm deep, ${mm2(thickness)} mm thick.`
}

/** The clipboard of the page; where it is refused, the old way by a selection. */
async function copyText(text: string): Promise<boolean> {
  try {
    await navigator.clipboard.writeText(text)
    return true
  } catch {
    const field = make('textarea', 'unseen', text)
    document.body.append(field)
    field.select()
    const done = document.execCommand('copy')
    field.remove()
    return done
  }
}
