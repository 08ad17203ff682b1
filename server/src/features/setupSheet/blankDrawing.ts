import type { Blank, KeepOut, Zero } from '../../job/sheet.ts'
import { type Lie, pointAsItLies } from '../../stock/lie.ts'
import { EMPTY, type Stock } from '../../stock/stock.ts'
import { escapeMarkup } from '../preview/page.ts'
import { cellPath } from './cellPath.ts'
import { plain } from './markup.ts'

/** A blank as it lies on the table, and what is to be shown on it. */
export interface Lying {
  readonly blank: Blank
  readonly lie: Lie
  /** As it lies, when the set-up begins. */
  readonly before: Stock
  /** As it lies, when it has ended. */
  readonly after: Stock
  readonly zero?: Zero
  /** Blank frame. */
  readonly pins: readonly (readonly [number, number])[]
  readonly clamps: readonly KeepOut[]
}

/** Room on the paper for the blank itself, mm. */
const ROOM = { width: 92, height: 62 }
/** Round the blank, mm of paper, for arrows and sizes. */
const MARGIN = { left: 9, right: 4, top: 4, bottom: 11 }
/** Less than this is no cut, mm. */
const CUT = 0.02
/** A place that lies so far under the face when the set-up begins is drawn as a hollow, mm. */
const HOLLOW = 0.5

/**
 * The blank seen from above, with its zero, pins, clamps and witness corner, what the set-up takes, and its inlay.
 * @param key sets its patterns apart from those of the other drawings of the page
 */
export function blankDrawing(lying: Lying, key: number): string {
  const { grid } = lying.before
  const scale = Math.min(ROOM.width / grid.width, ROOM.height / grid.depth)
  const [width, height] = [grid.width * scale, grid.depth * scale]
  const box = [width + MARGIN.left + MARGIN.right, height + MARGIN.top + MARGIN.bottom].map(value => value.toFixed(1))
  const paper: Paper = { scale, x: x => x * scale, y: y => (grid.depth - y) * scale }
  return `<svg class="blank" xmlns="http://www.w3.org/2000/svg" width="${box[0]}mm" height="${box[1]}mm" viewBox="${-MARGIN.left} ${-MARGIN.top} ${box[0]} ${box[1]}" role="img" aria-label="The blank as it lies">
<defs><pattern id="inlay-${key}" width="1.2" height="1.2" patternUnits="userSpaceOnUse" patternTransform="scale(${(1 / scale).toFixed(3)}) rotate(45)"><path d="M0 0V1.2" stroke="#000" stroke-width=".35"/></pattern>
<pattern id="clamp-${key}" width="1.2" height="1.2" patternUnits="userSpaceOnUse" patternTransform="rotate(-45)"><path d="M0 0V1.2" stroke="#000" stroke-width=".6"/></pattern></defs>
<g transform="scale(${scale.toFixed(4)})">${wood(lying, key)}</g>
${outline(lying, paper)}${sizes(grid.width, grid.depth, paper)}${grain(lying, paper)}${witness(lying, paper)}${lying.clamps.map(clamp => clampBox(clamp, paper, key)).join('')}${pins(lying, paper)}${zeroMark(lying, paper)}
</svg>`
}

interface Paper {
  readonly scale: number
  x(x: number): number
  y(y: number): number
}

/** What is gone already, what the set-up takes in three shades by its depth, and the inlay where it shows in the end. */
function wood({ before, after }: Lying, key: number): string {
  const { grid } = before
  const was = before.layers[0]
  const is = after.layers[0]
  let deepest = 0
  for (let k = 0; k < was.hi.length; k++) if (is.hi[k] > EMPTY) deepest = Math.max(deepest, was.hi[k] - is.hi[k])
  const depthOf = (k: number) => (is.hi[k] > EMPTY ? was.hi[k] - is.hi[k] : deepest)
  const cut = (k: number) => was.hi[k] > EMPTY && was.hi[k] - is.hi[k] > CUT
  const face = was.hi.reduce((a, b) => Math.max(a, b), EMPTY)
  const gone = cellPath(grid, k => was.hi[k] < face - HOLLOW && was.material[k] === 0)
  const shade = (fill: string, from: number, to: number) => {
    const share = (k: number) => depthOf(k) / deepest
    return `<path fill="${fill}" d="${cellPath(grid, k => cut(k) && share(k) > from && share(k) <= to)}"/>`
  }
  const shades = deepest > 0 ? [shade('#dedede', 0, 1 / 3), shade('#cacaca', 1 / 3, 0.8), shade('#b4b4b4', 0.8, 2)] : []
  const inlay = cellPath(grid, k => is.hi[k] > EMPTY && is.material[k] > 0)
  const through = cellPath(grid, k => was.hi[k] > EMPTY && is.hi[k] <= EMPTY)
  return `<path fill="#ebebeb" d="${gone}"/>${shades.join('')}<path fill="#777" d="${through}"/><path fill="#f4f4f4" d="${inlay}"/><path fill="url(#inlay-${key})" d="${inlay}"/>`
}

function outline({ blank, before: { grid } }: Lying, { x, y, scale }: Paper): string {
  const line = 'fill="none" stroke="#000" stroke-width=".5"'
  if (blank.diameter !== undefined)
    return `<circle cx="${x(grid.width / 2)}" cy="${y(grid.depth / 2)}" r="${(blank.diameter / 2) * scale}" ${line}/>`
  return `<rect width="${grid.width * scale}" height="${grid.depth * scale}" ${line}/>`
}

function sizes(width: number, depth: number, { x, y }: Paper): string {
  const below = y(0) + 8
  return `<path d="M0 ${below - 2}v3M${x(width)} ${below - 2}v3M0 ${below - 0.5}H${x(width)}M-7.5 ${y(depth)}h3M-7.5 ${y(0)}h3M-6 ${y(depth)}V${y(0)}" fill="none" stroke="#000" stroke-width=".2"/>
${label(x(width) / 2, below + 2.4, `${plain(width)} – this edge is nearest you`, 'middle')}${label(-6.6, y(depth / 2), plain(depth), 'middle', `rotate(-90 -6.6 ${y(depth / 2)})`)}`
}

function grain({ blank, lie, before: { grid } }: Lying, { x, y }: Paper): string {
  const along = (blank.grain === 'x') !== (lie.spin === 90 || lie.spin === 270)
  return label(x(grid.width), y(0) + 4, along ? 'grain ↔' : 'grain ↕', 'end')
}

/** The near-left corner of the top face as received: where it is now tells whether the blank lies right. */
function witness({ blank, lie, before: { grid } }: Lying, { x, y }: Paper): string {
  const [cx, cy] = pointAsItLies([0, 0, 0], lie, { width: blank.width, depth: blank.depth, thickness: blank.thickness })
  const inX = cx < grid.width / 2 ? 1 : -1
  const inY = cy < grid.depth / 2 ? -1 : 1
  const [px, py] = [x(cx), y(cy)]
  const name = lie.face === 'top' ? 'witness corner' : 'witness corner, below'
  return `<path d="M${px} ${py}h${6 * inX}L${px} ${py + 6 * inY}z" fill="${lie.face === 'top' ? '#000' : 'none'}" stroke="#000" stroke-width=".4"/>${label(px + 7 * inX, py + (inY < 0 ? -4.4 : 3.4), name, inX > 0 ? 'start' : 'end')}`
}

function clampBox({ box: [[x0, y0], [x1, y1]], height }: KeepOut, { x, y }: Paper, key: number): string {
  const [w, h] = [x(x1) - x(x0), y(y0) - y(y1)]
  return `<rect x="${x(x0)}" y="${y(y1)}" width="${w}" height="${h}" fill="#fff"/><rect x="${x(x0)}" y="${y(y1)}" width="${w}" height="${h}" fill="url(#clamp-${key})" stroke="#000" stroke-width=".4"/>${label(x(x0) + w / 2, y(y1) - 1, `clamp ${plain(height)} high`, x(x0) < 15 ? 'start' : 'end')}`
}

function pins({ pins: given, blank, lie }: Lying, { x, y }: Paper): string {
  return given
    .map(([bx, by]) => {
      const [px, py] = pointAsItLies([bx, by, 0], lie, blank)
      return `<g transform="translate(${x(px)} ${y(py)})"><circle r="1.8" fill="#fff" stroke="#000" stroke-width=".4"/><path d="M-2.8 0h5.6M0 -2.8v5.6" stroke="#000" stroke-width=".25"/></g>${label(x(px), y(py) + 5.4, `pin ${plain(px)}, ${plain(py)}`, x(px) < 20 ? 'start' : 'end')}`
    })
    .join('')
}

function zeroMark({ zero, before: { grid } }: Lying, { x, y }: Paper): string {
  if (!zero) return ''
  // A zero beside the blank is drawn at its edge; the words give its place.
  const px = Math.min(x(grid.width) + 2, Math.max(-4, x(zero.x)))
  const py = Math.min(y(0) + 4, Math.max(-2, y(zero.y)))
  return `<g transform="translate(${px} ${py})" stroke="#000" stroke-width=".6" fill="none"><path d="M0 0h15M0 0v-15"/><path d="M15 0l-2.4 -1v2zM0 -15l-1 2.4h2z" fill="#000"/><circle r="2.2" fill="#fff"/><path d="M0 0V-2.2A2.2 2.2 0 0 1 2.2 0zM0 0V2.2A2.2 2.2 0 0 1 -2.2 0z" fill="#000" stroke="none"/></g>${label(px + 16, py - 0.8, 'X', 'start')}${label(px + 0.9, py - 15, 'Y', 'start')}${label(px + 3, py + 4, 'X0 Y0', 'start')}`
}

function label(x: number, y: number, text: string, anchor: 'start' | 'middle' | 'end', transform = ''): string {
  const turned = transform ? ` transform="${transform}"` : ''
  return `<text x="${x.toFixed(1)}" y="${y.toFixed(1)}" text-anchor="${anchor}"${turned}>${escapeMarkup(text)}</text>`
}
