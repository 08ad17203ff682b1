import type { Bit } from '../../stock/bit.ts'
import { escapeMarkup } from '../preview/page.ts'
import { plain } from './markup.ts'

/** Height of the part that stands out of the collet, mm of paper. */
const TALL = 18

/** A bit in its collet from the side, with the stickout to set. */
export function bitDrawing(bit: Bit): string {
  const scale = TALL / Math.max(bit.stickout, bit.diameter * 1.2, 1)
  const [out, cutting] = [bit.stickout * scale, Math.min(bit.cuttingLength, bit.stickout) * scale]
  const shank = Math.min(5, (bit.shankDiameter / 2) * scale)
  const collet = Math.max(shank + 1, Math.min(8, (bit.colletDiameter / 2) * scale))
  const tip = 6 + out
  const dimension = Math.max(collet, (bit.diameter / 2) * scale) + 1.5
  return `<svg class="bit" xmlns="http://www.w3.org/2000/svg" width="29mm" height="${(tip + 2).toFixed(1)}mm" viewBox="-10.5 0 29 ${(tip + 2).toFixed(1)}" role="img" aria-label="The bit in its collet">
<g fill="none" stroke="#000" stroke-width=".4"><path d="M${-collet} 0v4l1.4 2h${2 * collet - 2.8}l1.4 -2v-4z" fill="#d0d0d0"/><rect x="${-shank}" y="6" width="${2 * shank}" height="${Math.max(0, out - cutting)}"/><path d="${profile(bit, scale, tip, cutting)}" fill="#eee"/>
<path d="M${collet} 6H${dimension + 0.8}M0.5 ${tip}H${dimension + 0.8}M${dimension} 6V${tip}" stroke-width=".2"/></g>
<text x="${dimension + 0.6}" y="${(6 + out / 2 + 1).toFixed(1)}">${escapeMarkup(plain(bit.stickout))}</text><text x="${dimension + 0.6}" y="${(6 + out / 2 + 5).toFixed(1)}">${escapeMarkup(`bit ${bit.number}`)}</text>
</svg>`
}

/** The flutes seen from the side. */
function profile(
  { shape, diameter, cornerRadius, angle, tipDiameter }: Bit,
  scale: number,
  tip: number,
  cutting: number,
) {
  const r = (diameter / 2) * scale
  const top = tip - cutting
  const side = (up: number) => Math.max(top, tip - up)
  if (shape === 'vee' || shape === 'taper') {
    const point = (tipDiameter / 2) * scale
    const rise = angle > 0 ? (r - point) / Math.tan((angle / 2) * (Math.PI / 180)) : 0
    const y = side(rise)
    return `M${-r} ${top}V${y}L${-point} ${tip}H${point}L${r} ${y}V${top}z`
  }
  const c = shape === 'ball' ? r : Math.min(r, cornerRadius * scale)
  const y = side(c)
  return `M${-r} ${top}V${y}Q${-r} ${tip} ${c - r} ${tip}H${r - c}Q${r} ${tip} ${r} ${y}V${top}z`
}
