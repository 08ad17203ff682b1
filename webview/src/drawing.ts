import type { PreviewJob } from '../../server/src/features/preview/protocol.ts'
import type { Shown } from './carving.ts'
import type { Clock, Moment } from './clock.ts'
import type { View } from './editor.ts'
import { gapLine } from './gapLine.ts'
import { pathLegend, type SurfaceLayer, surfaceLegend } from './layers.ts'
import type { LegendOf } from './legend.ts'
import { pointAt } from './motionPath.ts'
import type { PathPieces } from './pathModel.ts'
import { blankAt, insertsAt, lieAt, type Programmed, programAt } from './place.ts'
import type { Scene } from './scene.ts'

/** Puts into the scene what a job and a moment of it say. */

export interface Drawn {
  readonly job: PreviewJob
  readonly clock: Clock
  readonly moment: Moment
  readonly view: View
  readonly pieces: PathPieces | undefined
}

/** Path, bit and clamps of a moment; returns the legend of the path's colours. */
export function drawMoment(scene: Scene, { job, clock, moment, view, pieces }: Drawn): LegendOf | undefined {
  const setup = programAt(job, moment.setup)
  const inside = clock.secondsOf(moment) - clock.starts[moment.setup]
  const length = clock.starts[moment.setup + 1] - clock.starts[moment.setup]
  const visible = view.path !== 'none' && !!pieces?.count && scene.stance() !== 'hand'
  scene.path.time(inside, Math.min(12, length * 0.06), view.path === 'near')
  scene.path.mesh.visible = visible
  placeBit(scene, setup, moment)
  placeClamps(scene, job, moment)
  const tint = setup && visible ? pathLegend(view.tint, setup, moment.motion) : undefined
  scene.path.tint(tint?.values, tint?.legend)
  return tint?.legend
}

function placeBit(scene: Scene, setup: Programmed | undefined, { motion, share }: Moment) {
  const over = setup && motion >= setup.motions.count - 1 && share >= 1
  if (!setup || motion < 0 || over) return scene.tip(undefined)
  const bit = setup.bits[setup.bitOfState[setup.motions.state[motion]]]
  const p = pointAt(setup.motions, motion, share)
  scene.bit.show(bit)
  // A height that nobody has said is not made up: the bit is not drawn.
  const known = bit && p.every(Number.isFinite)
  scene.tip(known ? [p[0] + setup.shift[0], p[1] + setup.shift[1], p[2] + setup.shift[2]] : undefined)
}

function placeClamps(scene: Scene, job: PreviewJob, moment: Moment) {
  const setup = programAt(job, moment.setup)
  const boxes = setup ? job.keepOut.filter(each => each.setup === setup.name) : []
  scene.clamps.show(boxes.map(({ box, height }) => ({ box, top: (setup?.faceLevel ?? 0) + height })))
}

/** What the worker made of a moment. */
export function drawPicture(scene: Scene, job: PreviewJob, shown: Shown): void {
  const blank = blankAt(job, shown.moment.setup)
  if (!blank) return
  const inserts = insertsAt(job, shown.moment.setup).map(({ material, of }) => ({ material, resin: of === 'resin' }))
  scene.piece.dress(blank, inserts)
  scene.piece.show(shown.faces, shown.light, shown.cell)
  scene.inlay.object.visible = !!shown.inlay
  if (shown.inlay) {
    scene.inlay.dress(blank, inserts)
    scene.inlay.show(shown.inlay.faces, shown.inlay.light, shown.cell)
  }
  const solid = [shown.faces.lowest, shown.faces.highest] as const
  scene.set(blank, lieAt(job, shown.moment.setup), solid, shown.light.ground)
}

/** The surface in the colours of a layer; returns its legend. */
export function drawSurface(scene: Scene, job: PreviewJob, shown: Shown, layer: SurfaceLayer): LegendOf | undefined {
  const blank = blankAt(job, shown.moment.setup)
  if (!blank) return undefined
  const legend = surfaceLegend(layer, job, blank, shown.values)
  if (!legend || layer === 'gap') scene.piece.surface({ of: 'wood' })
  else if (layer === 'depth') scene.piece.surface({ of: 'depth', ...legend })
  else if (shown.values) scene.piece.surface({ of: 'values', ...legend, values: shown.values })
  const line = layer === 'gap' && job.joint && insertsAt(job, shown.moment.setup).length > 0 ? job.joint : undefined
  scene.gaps.mesh.visible = !!line
  if (line && legend) {
    const up = scene.seesUpper()
    const { pieces, values } = gapLine(line, faceAt(shown, line.gaps[0]?.points ?? new Float64Array(), up), up)
    scene.gaps.show(pieces)
    scene.gaps.time(0, 1, false)
    scene.gaps.tint(values, legend)
  }
  return legend
}

/** Height of the face that shows along a line: the middle one of those under its points, blank frame. */
function faceAt({ faces, cell }: Shown, points: Float64Array, up: boolean): number {
  const heights: number[] = []
  for (let k = 0; k < points.length; k += 3) {
    const i = Math.floor(points[k] / cell)
    const j = Math.floor(points[k + 1] / cell)
    if (i < 0 || j < 0 || i >= faces.nx || j >= faces.ny) continue
    const at = (j * faces.nx + i) * 4
    if (faces.columns[at + 3] >= 0) heights.push(faces.columns[at + (up ? 0 : 1)])
  }
  return heights.sort((a, b) => a - b)[heights.length >> 1] ?? (up ? faces.highest : faces.lowest)
}
