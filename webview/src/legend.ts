import { depthColour } from './depthScale.ts'
import { make, mm } from './dom.ts'

/** The legend of the depth layer: the scale itself, with a number at each step. */
export function fillLegend(element: HTMLElement, { top, step }: { readonly top: number; readonly step: number }): void {
  const key = `${top}/${step}`
  if (element.dataset.key === key) return
  element.dataset.key = key
  const canvas = make('canvas', 'scale', '', {
    role: 'img',
    'aria-label': `Depth from pale at the face to dark at ${mm(top)} mm`,
  })
  canvas.width = 1
  canvas.height = 128
  const context = canvas.getContext('2d')
  for (let y = 0; y < 128 && context; y++) {
    const [r, g, b] = depthColour(y / 127).map(c => Math.round(c * 255))
    context.fillStyle = `rgb(${r} ${g} ${b})`
    context.fillRect(0, y, 1, 1)
  }
  const marks = make('div', 'marks')
  for (let depth = 0; depth <= top + 1e-9; depth += step) {
    const label = make('span', '', depth ? `${mm(depth)} mm` : 'face')
    label.style.top = `${(depth / top) * 100}%`
    marks.append(label)
  }
  const row = make('div', 'ruler')
  row.append(canvas, marks)
  element.replaceChildren(make('p', '', 'Depth under the face'), row)
}
