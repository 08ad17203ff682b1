import { describe, expect, it } from 'vitest'
import { depthColour, niceDepth, srgbOf } from '../../webview/src/depthScale.ts'

/** CIE L* of an sRGB colour: IEC 61966-2-1 to linear light, Y by its second row, then CIE 1976 (both from memory). */
function lightness([r, g, b]: readonly number[]): number {
  const [x, y, z] = [r, g, b].map(c => (c <= 0.04045 ? c / 12.92 : ((c + 0.055) / 1.055) ** 2.4))
  const Y = 0.2126 * x + 0.7152 * y + 0.0722 * z
  return Y > 0.008856 ? 116 * Math.cbrt(Y) - 16 : 903.3 * Y
}

describe('the scale of depth', () => {
  it('turns OKLab white and black into white and black, and grey into grey', () => {
    for (const c of srgbOf(1, 0, 0)) expect(c).toBeCloseTo(1, 4)
    for (const c of srgbOf(0, 0, 0)) expect(c).toBeCloseTo(0, 4)
    const [r, g, b] = srgbOf(0.6, 0, 0)
    expect(Math.max(r, g, b) - Math.min(r, g, b)).toBeLessThan(1e-4)
  })

  it('darkens evenly all the way by another measure of lightness too', () => {
    const steps = Array.from(
      { length: 20 },
      (_, i) => lightness(depthColour(i / 20)) - lightness(depthColour((i + 1) / 20)),
    )
    const mean = steps.reduce((a, b) => a + b, 0) / steps.length
    expect(mean).toBeGreaterThan(3)
    for (const step of steps) expect(Math.abs(step - mean)).toBeLessThan(mean * 0.35)
  })

  it('is told apart without red and green: blue against yellow falls all the way', () => {
    const yellow = Array.from({ length: 21 }, (_, i) => {
      const [r, g, b] = depthColour(i / 20)
      return (r + g) / 2 - b
    })
    for (let i = 1; i < yellow.length; i++) expect(yellow[i]).toBeLessThan(yellow[i - 1])
  })

  it('divides the legend by round numbers that reach over the depth', () => {
    for (const depth of [0.3, 1, 4.1, 16, 24, 24.1, 45]) {
      const { top, step } = niceDepth(depth)
      expect(top).toBeGreaterThanOrEqual(depth - 1e-9)
      expect(top / step).toBeLessThanOrEqual(6)
      expect(Math.abs(top / step - Math.round(top / step))).toBeLessThan(1e-9)
    }
  })
})
