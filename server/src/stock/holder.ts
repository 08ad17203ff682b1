import type { Bit } from './bit.ts'
import { TILE, type Tiles } from './columns.ts'
import { CONTACT_TOLERANCE, Contact } from './engagement.ts'
import type { Profile } from './profile.ts'
import type { Stock } from './stock.ts'
import { lowestOver, type Sweep, type Touch } from './sweep.ts'

/** A shank narrower than the flutes by less than this still rubs on the walls that they leave, mm. */
const RUBS = 0.01

/**
 * How near the axis wood above the flutes meets the shank, mm; 0 where the shank is so much thinner than the flutes
 * that it is free of what they leave. `rim`: radius of the flutes; `cell`: side of a cell.
 */
export function shankRadiusThatMeets(bit: Bit, rim: number, cell: number): number {
  const shank = bit.shankDiameter / 2
  if (!(shank >= rim - RUBS)) return 0
  // A wall that the flutes have cut stands just outside the bit: its cells' centres are up to a cell away.
  return shank > rim + RUBS ? shank : rim + 0.75 * cell
}

/**
 * Whether the shank above the flutes, or the collet, meets wood that a move leaves standing: bits of `Contact`.
 * The shank is met where wood stands within its radius higher than the flutes reach, the collet where it stands
 * higher than the bit sticks out.
 */
export function meetsWood(stock: Stock, tiles: Tiles, bit: Bit, sweep: Sweep): number {
  let contact = 0
  const shank = shankRadiusThatMeets(bit, sweep.profile.rim, stock.grid.cell)
  if (discMeets(stock, tiles, sweep, shank, bit.cuttingLength)) contact |= Contact.shank
  if (discMeets(stock, tiles, sweep, bit.colletDiameter / 2, bit.stickout)) contact |= Contact.collet
  return contact
}

const touch: Touch = { height: 0, along: 0 }

/** Whether a disc carried `above` the tip sweeps into wood. */
function discMeets(stock: Stock, tiles: Tiles, sweep: Sweep, radius: number, above: number): boolean {
  if (!(radius > 0) || !Number.isFinite(radius) || !Number.isFinite(above)) return false
  const { cell, nx, ny } = stock.grid
  const step = cell * TILE
  const profile: Profile = { rim: radius, flat: radius, corner: 0, arcEnd: radius, arcTop: 0, slope: 0, top: 0 }
  const disc: Sweep = { ...sweep, profile, z0: sweep.z0 + above, z1: sweep.z1 + above }
  const floor = Math.min(disc.z0, disc.z1) + CONTACT_TOLERANCE
  const x1 = sweep.x0 + sweep.tx * sweep.run
  const y1 = sweep.y0 + sweep.ty * sweep.run
  const endI = Math.min(tiles.across - 1, Math.floor((Math.max(sweep.x0, x1) + radius) / step))
  const endJ = Math.min(tiles.down - 1, Math.floor((Math.max(sweep.y0, y1) + radius) / step))
  const { hi } = stock.layers[0]
  for (let tj = Math.max(0, Math.floor((Math.min(sweep.y0, y1) - radius) / step)); tj <= endJ; tj++) {
    for (let ti = Math.max(0, Math.floor((Math.min(sweep.x0, x1) - radius) / step)); ti <= endI; ti++) {
      if (tiles.highest[tj * tiles.across + ti] <= floor) continue
      const endX = Math.min(nx, (ti + 1) * TILE)
      const endY = Math.min(ny, (tj + 1) * TILE)
      for (let j = tj * TILE; j < endY; j++) {
        for (let i = ti * TILE; i < endX; i++) {
          const surface = hi[j * nx + i]
          if (surface <= floor) continue
          lowestOver(disc, (i + 0.5) * cell, (j + 0.5) * cell, touch)
          if (surface > touch.height + CONTACT_TOLERANCE) return true
        }
      }
    }
  }
  return false
}
