import { make } from './dom.ts'
import type { Scale } from './scaleTexture.ts'

/** A scale and the numbers written beside it. */
export interface LegendOf {
  readonly title: string
  readonly scale: Scale
  readonly from: number
  readonly to: number
  readonly marks: readonly { readonly at: number; readonly text: string }[]
}

/** A legend: the scale itself, least at the top, with its numbers. Nothing: it is empty and hidden. */
export function fillLegend(element: HTMLElement, legend: LegendOf | undefined): void {
  element.hidden = !legend
  const key = legend ? JSON.stringify([legend.title, legend.from, legend.to, legend.marks]) : ''
  if (element.dataset.key === key) return
  element.dataset.key = key
  element.replaceChildren()
  if (!legend) return
  const { title, scale, from, to, marks } = legend
  const said = marks.map(mark => mark.text).join(', ')
  const canvas = make('canvas', 'scale', '', { role: 'img', 'aria-label': `${title}, from the top: ${said}` })
  canvas.width = 1
  canvas.height = 128
  const context = canvas.getContext('2d')
  for (let y = 0; y < 128 && context; y++) {
    const [r, g, b] = scale(y / 127).map(c => Math.round(c * 255))
    context.fillStyle = `rgb(${r} ${g} ${b})`
    context.fillRect(0, y, 1, 1)
  }
  const labels = make('div', 'marks', '', { 'aria-hidden': 'true' })
  for (const { at, text } of marks) {
    const label = make('span', '', text)
    label.style.top = `${((at - from) / (to - from)) * 100}%`
    labels.append(label)
  }
  const row = make('div', 'ruler')
  row.append(canvas, labels)
  element.replaceChildren(make('p', '', title), row)
}
