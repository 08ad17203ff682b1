import { describe, expect, it } from 'vitest'
import type { Bit } from '../../server/src/stock/bit.ts'
import { carve } from '../../server/src/stock/carve.ts'
import { Contact } from '../../server/src/stock/engagement.ts'
import { EMPTY, newStock } from '../../server/src/stock/stock.ts'
import { bit } from './bits.ts'
import { type Move, motionsOf } from './motions.ts'

const cell = 0.25
const size = { width: 80, depth: 60, thickness: 20 }

function run(b: Bit, start: readonly [number, number, number], moves: readonly Move[]) {
  const stock = newStock(size, cell)
  const engagement = carve(stock, motionsOf(start, moves), { shift: [0, 0, 0], bitOfState: [b] })
  return { stock, ...engagement }
}

describe('engagement of motions', () => {
  const flat = bit({ diameter: 6 })

  it('a slot: full width, slotting, no climb, contact at once', () => {
    // The plunge that comes before makes the way for the side move.
    const { contact, axial, radial, climb, lowest, firstContact, under } = run(
      flat,
      [20, 30, 25],
      [{ to: [20, 30, 17] }, { to: [60, 30, 17] }],
    )
    expect(contact[0] & Contact.plunges).toBeTruthy()
    expect(contact[1]).toBe(Contact.cuts | Contact.slots)
    expect(axial[1]).toBeCloseTo(3, 5)
    expect(radial[1]).toBeCloseTo(6, 5)
    expect(climb[1]).toBeCloseTo(0, 1)
    expect(lowest[1]).toBeCloseTo(17, 5)
    expect(firstContact[0]).toBeCloseTo(5 / 8, 3)
    expect(firstContact[1]).toBeLessThan(0.01)
    expect(under[0]).toBe(20)
    expect(climb[0]).toBe(0)
  })

  it('a side cut: its width, and climb where the wood is to the right', () => {
    // The first slot is longer, so that the second pass has no wood at its ends.
    const moves: Move[] = [{ to: [10, 20, 17] }, { to: [70, 20, 17] }, { to: [60, 22, 17] }, { to: [20, 22, 17] }]
    const { contact, radial, climb } = run(flat, [10, 20, 25], moves)
    // On the way back the uncut wood lies at greater y: to the right of a move towards lesser x.
    expect(radial[3]).toBeGreaterThan(2 - cell)
    expect(radial[3]).toBeLessThan(2 + cell)
    expect(climb[3]).toBeGreaterThan(0.9)
    expect(contact[3] & Contact.slots).toBe(0)
    const back = run(flat, [10, 20, 25], [...moves.slice(0, 2), { to: [20, 22, 17] }, { to: [60, 22, 17] }])
    expect(back.climb[3]).toBeLessThan(-0.9)
  })

  it('cuts left at one place and right at another are not a wide one', () => {
    // A thin slot that changes sides, the place where it does cleared before; then a wide bit down the middle.
    const stock = newStock(size, cell)
    const thin = bit({ diameter: 4 })
    const wide = bit({ diameter: 8 })
    const motions = motionsOf(
      [10, 31.9, 17],
      [
        { to: [40, 31.9, 17] },
        { to: [40, 28.1, 17] },
        { to: [70, 28.1, 17] },
        { to: [34, 30, 25] },
        { to: [34, 30, 17], state: 1 },
        { to: [46, 30, 17], state: 1 },
        { to: [46, 30, 25], state: 1 },
        { to: [14, 30, 25] },
        { to: [14, 30, 17] },
        { to: [66, 30, 17], state: 1 },
      ],
    )
    const { radial, contact } = carve(stock, motions, { shift: [0, 0, 0], bitOfState: [thin, wide] })
    expect(radial[9]).toBeGreaterThan(3.5)
    expect(radial[9]).toBeLessThan(4.5)
    expect(contact[9]).toBe(Contact.cuts)
  })

  it('a bowl bit that steps down beside its own wall bites no more than the step, high as the fillet stands', () => {
    const bowl = bit({ shape: 'bowl', diameter: 20, cornerRadius: 6 })
    const levels: Move[] = [18, 16, 14].flatMap(z => [{ to: [20, 30, z] } as const, { to: [60, 30, z] } as const])
    const { axial, bite } = run(bowl, [20, 30, 25], levels)
    expect(bite[5]).toBeCloseTo(2, 4)
    // The fillet of the levels above stands up to the face.
    expect(axial[5]).toBeGreaterThan(5.9)
    // What a flat bit takes is as deep as its tip is under the surface.
    const slot = run(flat, [20, 30, 25], [{ to: [20, 30, 17] }, { to: [60, 30, 17] }])
    expect(slot.bite[1]).toBe(slot.axial[1])
  })

  it('air is air: NaN where there is nothing to say, contact under the tolerance is none', () => {
    const air = run(flat, [20, 30, 25], [{ to: [60, 30, 25] }])
    expect([air.volume[0], air.axial[0], air.radial[0], air.contact[0]]).toEqual([0, 0, 0, 0])
    expect([air.lowest[0], air.firstContact[0], air.climb[0]].every(Number.isNaN)).toBe(true)
    const touching = run(flat, [20, 30, 25], [{ to: [60, 30, 25] }, { to: [60, 30, 19.99] }, { to: [20, 30, 19.99] }])
    expect(touching.contact.every(c => c === 0)).toBe(true)
    expect(touching.volume[2]).toBeGreaterThan(0)
  })

  it('a rapid through wood removes it, and says where it met it', () => {
    const { volume, firstContact, contact } = run(flat, [-20, 30, 15], [{ to: [60, 30, 15], kind: 0 }])
    expect(volume[0]).toBeGreaterThan(60 * 6 * 5)
    expect(contact[0] & Contact.cuts).toBeTruthy()
    // The rim reaches x = 0, to within half a cell, when the centre stands at -3.
    expect(firstContact[0]).toBeCloseTo(17 / 80, 2)
  })

  it('a descending ramp meets the face where its tip does', () => {
    const { firstContact, lowest, contact } = run(flat, [20, 30, 22], [{ to: [60, 30, 18] }])
    expect(firstContact[0]).toBeCloseTo(0.5, 2)
    expect(lowest[0]).toBeCloseTo(18, 5)
    expect(contact[0] & Contact.plunges).toBe(0)
  })

  it('a helix counts its chords together', () => {
    const arc = { plane: 'XY', centre: [40, 30], radius: 5, sweep: -2 * Math.PI, from: 0 } as const
    const { volume, firstContact, contact } = run(bit({ diameter: 6 }), [45, 30, 22], [{ to: [45, 30, 18], arc }])
    expect(firstContact[0]).toBeGreaterThan(0.45)
    expect(firstContact[0]).toBeLessThan(0.52)
    expect(volume[0]).toBeGreaterThan(0)
    expect(contact[0] & Contact.cuts).toBeTruthy()
  })

  describe('shank and collet', () => {
    const short = bit({ diameter: 6, cuttingLength: 6, stickout: 12, shankDiameter: 6, colletDiameter: 16 })

    it('no contact while the flutes reach the face', () => {
      const { contact } = run(short, [20, 30, 25], [{ to: [20, 30, 14.5] }, { to: [60, 30, 14.5] }])
      expect(contact[1] & (Contact.shank | Contact.collet)).toBe(0)
    })

    it('the shank rubs on a wall higher than the flutes', () => {
      const levels: Move[] = [15, 12].flatMap(z => [{ to: [20, 30, z] } as const, { to: [60, 30, z] } as const])
      const { contact } = run(short, [20, 30, 25], levels)
      expect(contact[1] & Contact.shank).toBe(0)
      expect(contact[3] & Contact.shank).toBeTruthy()
      expect(contact[3] & Contact.collet).toBe(0)
    })

    it('a thinner shank is free of the wall, but not of wood that the move itself pushes it into', () => {
      const relieved = { ...short, shankDiameter: 5 }
      const levels: Move[] = [15, 12].flatMap(z => [{ to: [20, 30, z] } as const, { to: [60, 30, z] } as const])
      expect(run(relieved, [20, 30, 25], levels).contact[3] & Contact.shank).toBe(0)
      expect(run(relieved, [-10, 30, 12], [{ to: [60, 30, 12] }]).contact[0] & Contact.shank).toBeTruthy()
    })

    it('the collet meets the face beside a deep slot', () => {
      const levels: Move[] = [15, 10, 7].flatMap(z => [{ to: [20, 30, z] } as const, { to: [60, 30, z] } as const])
      const { contact } = run(short, [20, 30, 25], levels)
      expect(contact[3] & Contact.collet).toBe(0)
      expect(contact[5] & Contact.collet).toBeTruthy()
    })
  })
})

describe('columns of several intervals', () => {
  it('are cut from the top down; air between does not count', () => {
    const stock = newStock({ width: 10, depth: 10, thickness: 10 }, 0.5)
    const cells = 400
    // A plug of 4 to 6 under a bridge of 8 to 10, over a floor of 0 to 2.
    stock.layers[0].lo.fill(8)
    for (const [lo, hi, m] of [
      [4, 6, 1],
      [0, 2, 0],
    ]) {
      stock.layers.push({
        lo: new Float32Array(cells).fill(lo),
        hi: new Float32Array(cells).fill(hi),
        material: new Uint8Array(cells).fill(m),
      })
    }
    const big = bit({ diameter: 40 })
    const { volume } = carve(stock, motionsOf([5, 5, 12], [{ to: [5, 5, 9] }, { to: [5, 5, 5] }, { to: [5, 5, -1] }]), {
      shift: [0, 0, 0],
      bitOfState: [big],
    })
    expect(volume[0]).toBeCloseTo(100 * 1, 6)
    expect(volume[1]).toBeCloseTo(100 * (1 + 1), 6)
    expect(volume[2]).toBeCloseTo(100 * (1 + 2), 6)
    expect(stock.layers.every(layer => layer.hi.every(h => h === EMPTY))).toBe(true)
    expect(stock.layers.every(layer => layer.material.every(m => m === 0))).toBe(true)
  })
})
