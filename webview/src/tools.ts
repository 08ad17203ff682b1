import type { PreviewFinding, PreviewJob, SectionPlane } from '../../server/src/features/preview/protocol.ts'
import type { Moment } from './clock.ts'
import type { View } from './editor.ts'
import { type LiftTool, newLiftTool } from './liftTool.ts'
import { newMarks, type Spot } from './marks.ts'
import { type MeasureTool, newMeasureTool } from './measureTool.ts'
import type { Page } from './page.ts'
import { newPins, pinsOf } from './pins.ts'
import { blankAt, insertsAt } from './place.ts'
import type { Scene } from './scene.ts'
import { newSectionTool, type SectionTool } from './sectionTool.ts'

/** The tools over the picture, and what they lay over it. */
export interface Tools {
  readonly section: SectionTool
  readonly measure: MeasureTool
  readonly lift: LiftTool
  /** Another job. */
  open(job: PreviewJob, plane: SectionPlane | undefined): void
  at(moment: Moment): void
  /** Lays marks and pins where things are in the picture now. */
  draw(): void
}

export interface ToolEvents {
  scene(): Scene | undefined
  /** The plane of the cut moved. */
  cut(): void
  stand(stance: View['stance'], polar?: number, azimuth?: number): void
  /** Another picture is needed. */
  ask(): void
  draw(): void
  take(x: number, y: number): void
  goTo(finding: PreviewFinding): void
}

/** Seen so, a cut stands upright in the picture, and some of the floor behind it shows. */
const SQUARELY = 1.2

export function newTools(page: Page, events: ToolEvents): Tools {
  const { canvas, over, bench } = page
  const marks = newMarks()
  over.append(marks.element)
  const pins = newPins(over, events.goTo)
  let job: PreviewJob | undefined

  const section = newSectionTool(over, {
    moved: events.cut,
    face(axis) {
      events.stand('machine', SQUARELY, axis === 'x' ? Math.PI / 2 : 0)
    },
    along(axis, grip, dx, dy) {
      const scene = events.scene()
      const here = scene?.project(grip)
      const next = scene?.project(axis === 'x' ? [grip[0] + 1, grip[1], grip[2]] : [grip[0], grip[1] + 1, grip[2]])
      if (!here || !next) return 0
      const [wx, wy] = [next[0] - here[0], next[1] - here[1]]
      const square = wx * wx + wy * wy
      // Looked at along the way that it goes, a plane cannot be dragged; then up and down moves it.
      return square > 0.05 ? (dx * wx + dy * wy) / square : -dy * 0.2
    },
  })
  const measure = newMeasureTool({
    changed: events.draw,
    pressed: events.take,
    size: () => [canvas.clientWidth, canvas.clientHeight],
    copied: done => page.tell(done ? 'Copied.' : 'The clipboard was refused.'),
  })
  let below = true
  const lift = newLiftTool(began => {
    events.scene()?.lift((below ? -1 : 1) * (lift.by() ?? 0))
    if (began) events.stand(below ? 'underside' : 'top', 0.86, 0)
    events.ask()
  })
  for (const tool of [section, measure, lift]) bench.append(tool.button)
  for (const tool of [section, measure, lift]) bench.append(tool.panel)

  return {
    section,
    measure,
    lift,
    open(next, plane) {
      job = next
      section.set(plane)
    },
    at(moment) {
      const blank = job && blankAt(job, moment.setup)
      if (!job || !blank) return
      section.fit(blank)
      const inserts = insertsAt(job, moment.setup)
      const pocket = job.setups.find(
        each => each.kind === 'program' && each.makes === 'pocket' && each.blank === blank.name,
      )
      below = pocket?.kind !== 'program' || pocket.lie.face === 'underside'
      lift.offer(inserts.length > 0, Math.max(30, Math.min(blank.width, blank.depth) / 2))
      pins.show(pinsOf(job, moment))
    },
    draw() {
      const scene = events.scene()
      if (!scene) return
      const size: Spot = [canvas.clientWidth, canvas.clientHeight]
      marks.clear()
      section.draw(marks, scene.project)
      measure.draw(marks, scene.project)
      pins.place(scene.project, size)
    },
  }
}
