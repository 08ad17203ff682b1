/** Pencil marks over the picture: lines and numbers that stand at places of the piece. */

export type Spot = readonly [number, number]

const NS = 'http://www.w3.org/2000/svg'

export interface Marks {
  readonly element: SVGSVGElement
  clear(): void
  /** A line with a short stroke across both ends and a number beside its middle. */
  dimension(from: Spot, to: Spot, text: string): void
  line(from: Spot, to: Spot, name?: string): void
  path(spots: readonly Spot[], name: string): void
  dot(at: Spot, name?: string): void
  text(at: Spot, text: string): void
}

export function newMarks(): Marks {
  const element = document.createElementNS(NS, 'svg')
  element.classList.add('marks-over')
  // What they say is said in words beside the picture.
  element.setAttribute('aria-hidden', 'true')
  const add = (tag: string, attributes: Readonly<Record<string, number | string>>, name = '') => {
    const child = document.createElementNS(NS, tag)
    for (const [key, value] of Object.entries(attributes)) {
      child.setAttribute(key, typeof value === 'number' ? value.toFixed(1) : value)
    }
    if (name) child.setAttribute('class', name)
    element.append(child)
    return child
  }
  const marks: Marks = {
    element,
    clear: () => element.replaceChildren(),
    line(from, to, name = '') {
      const ends = { x1: from[0], y1: from[1], x2: to[0], y2: to[1] }
      // A pale line under the dark one, so that it is seen on any wood.
      add('line', ends, `halo ${name}`)
      add('line', ends, name)
    },
    path(spots, name) {
      add('polyline', { points: spots.map(([x, y]) => `${x.toFixed(1)},${y.toFixed(1)}`).join(' ') }, name)
    },
    dot(at, name = '') {
      add('circle', { cx: at[0], cy: at[1], r: 4.5 }, `halo ${name}`)
      add('circle', { cx: at[0], cy: at[1], r: 4.5 }, name)
    },
    text(at, text) {
      add('text', { x: at[0], y: at[1] }).textContent = text
    },
    dimension(from, to, text) {
      const dx = to[0] - from[0]
      const dy = to[1] - from[1]
      const length = Math.hypot(dx, dy) || 1
      const [ax, ay] = [(-dy / length) * 5, (dx / length) * 5]
      marks.line(from, to)
      for (const [x, y] of [from, to]) marks.line([x - ax, y - ay], [x + ax, y + ay])
      const upright = Math.abs(dy) > Math.abs(dx)
      const middle: Spot = [(from[0] + to[0]) / 2, (from[1] + to[1]) / 2]
      const label = add(
        'text',
        upright ? { x: middle[0] + 9, y: middle[1] + 4 } : { x: middle[0], y: Math.min(from[1], to[1]) - 9 },
        upright ? 'beside' : '',
      )
      label.textContent = text
    },
  }
  return marks
}
