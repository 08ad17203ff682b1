/**
 * The colours of depth: a straight line in OKLab (B. Ottosson, 2020; the matrices are from memory and the test checks
 * them against white, black and the even steps) from a deep blue to a pale yellow. Straight there means even to the
 * eye; blue to yellow with lightness rising all the way is told apart by the colour-blind too, and in grey.
 */
const shallow = [0.96, -0.02, 0.09] as const
const deep = [0.3, -0.015, -0.105] as const

/** sRGB (0..1 each) at a share of the scale: 0 at the face, 1 at the deepest. */
export function depthColour(share: number): [number, number, number] {
  const t = Math.min(Math.max(share, 0), 1)
  return srgbOf(
    shallow[0] + (deep[0] - shallow[0]) * t,
    shallow[1] + (deep[1] - shallow[1]) * t,
    shallow[2] + (deep[2] - shallow[2]) * t,
  )
}

const blue = [0.45, -0.05, -0.13] as const
const middle = [0.95, 0, 0.02] as const
const ochre = [0.5, 0.09, 0.1] as const

/**
 * sRGB at a share of a scale with two ends: blue, pale in the middle (0.5), ochre. Both arms are straight in OKLab and
 * equally dark at their ends; blue and ochre are told apart by the colour-blind.
 */
export function eitherColour(share: number): [number, number, number] {
  const t = Math.min(Math.max(share, 0), 1) * 2 - 1
  const end = t < 0 ? blue : ochre
  const mixed = middle.map((from, i) => from + (end[i] - from) * Math.abs(t))
  return srgbOf(mixed[0], mixed[1], mixed[2])
}

/** OKLab to sRGB, each channel 0..1 (clipped). */
export function srgbOf(L: number, a: number, b: number): [number, number, number] {
  const l = (L + 0.3963377774 * a + 0.2158037573 * b) ** 3
  const m = (L - 0.1055613458 * a - 0.0638541728 * b) ** 3
  const s = (L - 0.0894841775 * a - 1.291485548 * b) ** 3
  return [
    gamma(4.0767416621 * l - 3.3077115913 * m + 0.2309699292 * s),
    gamma(-1.2684380046 * l + 2.6097574011 * m - 0.3413193965 * s),
    gamma(-0.0041960863 * l - 0.7034186147 * m + 1.707614701 * s),
  ]
}

function gamma(linear: number): number {
  const x = Math.min(Math.max(linear, 0), 1)
  return x <= 0.0031308 ? 12.92 * x : 1.055 * x ** (1 / 2.4) - 0.055
}

/** A round number of mm, at least `depth`, that the legend can be divided by: 1, 2, 5 and their tens. */
export function niceDepth(depth: number): { readonly top: number; readonly step: number } {
  const rough = Math.max(depth, 0.1) / 4
  const power = 10 ** Math.floor(Math.log10(rough))
  const step = [1, 2, 2.5, 5, 10].map(n => n * power).find(n => n >= rough - 1e-9)!
  return { top: Math.ceil(depth / step - 1e-9) * step || step, step }
}
