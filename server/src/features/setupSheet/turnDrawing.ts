import { type Lie, pointAsItLies } from '../../stock/lie.ts'
import { faceText, type Turning } from './turning.ts'

/** Of the small blank in the drawing, mm of paper. */
const SMALL = { width: 20, depth: 14, thickness: 1 }

/** The blank before and after it is turned, with an arrow across the axis that it is turned about. */
export function turnDrawing({ from, to, over, spin }: Turning, lies: readonly [Lie, Lie]): string {
  const arrow = over
    ? over === 'sideways'
      ? `<path d="M11 3v18" stroke-dasharray="2 1 .5 1"/><path d="M3 4C6 -1 16 -1 19 3.4"/><path d="M19.6 4.4l-2.6 -.8l2 -1.6z" fill="#000"/>`
      : `<path d="M0 12h22" stroke-dasharray="2 1 .5 1"/><path d="M21 18C26 15 26 9 21.6 6.2"/><path d="M20.6 5.6l2.6 0l-1.4 2z" fill="#000"/>`
    : ''
  const turned = spin > 0 ? `<path d="M34.5 3.5A7 7 0 0 0 31 9"/><path d="M30.8 10.4l-1 -2.4h2.2z" fill="#000"/>` : ''
  const words = spin > 0 ? `${over ? 'then ' : ''}${spin}°` : ''
  return `<svg class="turn" xmlns="http://www.w3.org/2000/svg" width="40mm" height="15.9mm" viewBox="-4 -2 68 27" role="img" aria-label="How to turn the blank">
<g fill="none" stroke="#000" stroke-width=".4"><rect x="1" y="5" width="20" height="14"/>${arrow}${turned}<path d="M27 12h7"/><path d="M36 12l-2.6 -1.2v2.4z" fill="#000"/><rect x="39" y="5" width="20" height="14" stroke-width=".7"/>${corner(lies[0], 1)}${corner(lies[1], 39)}</g>
<text x="11" y="22.6" text-anchor="middle" class="large">${faceText({ face: from })} up</text><text x="49" y="22.6" text-anchor="middle" class="large">${faceText({ face: to })} up</text><text x="31" y="8" text-anchor="middle" class="large">${words}</text>
</svg>`
}

/** The witness corner, where it can be told on a drawing that is not spun. */
function corner(lie: Lie, left: number): string {
  if (lie.spin !== 0) return ''
  const [x, y] = pointAsItLies([0, 0, 0], lie, SMALL)
  const [px, py] = [left + x, 19 - y]
  const fill = lie.face === 'top' ? '#000' : 'none'
  return `<path d="M${px} ${py}h${x > 0 ? -4 : 4}L${px} ${py + (y > 0 ? 4 : -4)}z" fill="${fill}"/>`
}
