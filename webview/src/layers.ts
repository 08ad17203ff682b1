import { type PreviewJob, surfaces } from '../../server/src/features/preview/protocol.ts'
import { MotionKind } from '../../server/src/machine/motions.ts'
import { depthColour, eitherColour, niceDepth } from './depthScale.ts'
import { mm, mm2 } from './dom.ts'
import type { LegendOf } from './legend.ts'
import type { Blank, Programmed } from './place.ts'

/** What the surface tells. */
export type SurfaceLayer = (typeof surfaces)[number]
/** What the colour of the path tells. */
export type PathLayer = 'time' | 'bite' | 'width' | 'chip'

export const surfaceNames: Readonly<Record<SurfaceLayer, string>> = {
  wood: 'Wood',
  depth: 'Depth',
  thickness: 'Thickness',
  left: 'Still to cut',
  gap: 'Gap of the fit',
  changed: 'Last edit',
}

export const pathNames: Readonly<Record<PathLayer, string>> = {
  time: 'Order',
  bite: 'Depth of bite',
  width: 'Width of bite',
  chip: 'Chip load',
}

/** The layers that a job has numbers for. */
export function surfacesOf(job: PreviewJob): SurfaceLayer[] {
  return surfaces.filter(layer => layer !== 'gap' || job.joint?.gaps.length)
}

/** The scale of a surface's layer; undefined where it is the wood itself. */
export function surfaceLegend(
  layer: SurfaceLayer,
  job: PreviewJob,
  blank: Blank,
  values: Float32Array | undefined,
): LegendOf | undefined {
  switch (layer) {
    case 'wood':
      return undefined
    case 'depth':
      return rising('Depth under the face', blank.thickness, 'face')
    case 'thickness':
      return rising('Thickness of all that is solid', blank.thickness, 'none')
    case 'left':
      return rising('Still to be cut away here', blank.thickness, 'none')
    case 'gap':
      return gapLegend(job)
    case 'changed': {
      let most = 0
      for (const value of values ?? []) most = Math.max(most, Math.abs(value))
      const { top, step } = niceDepth(Math.max(most, 0.1))
      return {
        title: most > 0 ? 'What the last edit changed' : 'The last edit changed nothing in this wood',
        scale: eitherColour,
        from: -top,
        to: top,
        marks: [-top, -step, 0, step, top].map(at => ({
          at,
          text: at === 0 ? 'as it was' : `${mm(Math.abs(at))} mm ${at < 0 ? 'more left' : 'more cut'}`,
        })),
      }
    }
  }
}

function rising(title: string, most: number, nought: string): LegendOf {
  const { top, step } = niceDepth(most)
  const marks: { at: number; text: string }[] = []
  for (let at = 0; at <= top + 1e-9; at += step) marks.push({ at, text: at ? `${mm(at)} mm` : nought })
  return { title, scale: depthColour, from: 0, to: top, marks }
}

/** The gap between its limits is pale; tighter is blue, looser is ochre. */
function gapLegend({ limits, figures }: PreviewJob): LegendOf {
  const [tight, loose] = limits.clearance
  const spread = Math.max(loose - tight, 0.02)
  const found = figures.fit ? [figures.fit.tightest.nominal, figures.fit.loosest.nominal] : []
  const marks = [
    { at: tight, text: `${mm2(tight)} mm least` },
    { at: loose, text: `${mm2(loose)} mm most` },
  ]
  const more = found.length ? `here ${mm2(found[0])} to ${mm2(found[1])} mm` : ''
  return {
    title: `Gap a side, plug to pocket${more && `: ${more}`}`,
    scale: eitherColour,
    from: tight - spread,
    to: loose + spread,
    marks,
  }
}

/** A number for each motion and the scale that it is coloured by; undefined where colour tells the order only. */
export function pathLegend(
  layer: PathLayer,
  setup: Programmed,
  motion: number,
): { readonly values: Float32Array; readonly legend: LegendOf } | undefined {
  const { motions, axial, radial } = setup
  const bitAt = (k: number) => setup.bits[setup.bitOfState[motions.state[k]]]
  const at = Math.max(0, Math.min(motions.count - 1, motion))
  switch (layer) {
    case 'time':
      return undefined
    case 'bite':
    case 'width': {
      const values = layer === 'bite' ? axial : radial
      const most = values.reduce((a, b) => Math.max(a, b), 0)
      const title = layer === 'bite' ? 'How deep the bit bites' : 'How wide the bit bites'
      const limit = layer === 'bite' ? bitAt(at)?.maxPassDepth : undefined
      const legend = rising(
        limit === undefined ? title : `${title}; this one takes ${mm(limit)} mm at most`,
        most,
        'air',
      )
      return { values, legend }
    }
    case 'chip': {
      const values = new Float32Array(motions.count)
      for (let k = 0; k < motions.count; k++) {
        const bit = bitAt(k)
        const state = motions.state[k]
        const chip = bit ? setup.feedOfState[state] / (setup.speedOfState[state] * bit.flutes) : Number.NaN
        const cuts = motions.kind[k] !== MotionKind.rapid && radial[k] > 0
        values[k] =
          cuts && bit ? (chip - bit.chipLoad[0]) / Math.max(1e-6, bit.chipLoad[1] - bit.chipLoad[0]) : Number.NaN
      }
      const bit = bitAt(at)
      const marks = bit
        ? [
            { at: 0, text: `${bit.chipLoad[0].toFixed(3)} mm least` },
            { at: 1, text: `${bit.chipLoad[1].toFixed(3)} mm most` },
          ]
        : []
      return { values, legend: { title: 'Chip load, each tooth', scale: eitherColour, from: -1, to: 2, marks } }
    }
  }
}
