import type { PreviewFinding, PreviewJob, ToPreview } from '../../server/src/features/preview/protocol.ts'
import { jobFromText } from '../../server/src/features/preview/wire.ts'
import { newBand } from './band.ts'
import { type Carving, type Shown, startCarving } from './carving.ts'
import { type Clock, clockOf, type Moment } from './clock.ts'
import { drawMoment, drawPicture, drawSurface } from './drawing.ts'
import { inEditor, keepView, keptView, post, type View } from './editor.ts'
import { surfacesOf } from './layers.ts'
import { fillLegend } from './legend.ts'
import { newLooks } from './looks.ts'
import { newNotes } from './notes.ts'
import { steer } from './orbit.ts'
import { newPage } from './page.ts'
import { type PathPieces, pathPieces } from './pathModel.ts'
import { columnAt, meet, motionNear, motionThatCut } from './picking.ts'
import { blankAt, lieAt, momentKept, momentOfLine, programAt } from './place.ts'
import { newScene, type Scene } from './scene.ts'
import { sunsFor } from './suns.ts'
import { onThemeChange, themeOf } from './theme.ts'
import { newTools } from './tools.ts'
import { newWatch } from './watch.ts'
import { sayMoment } from './words.ts'

export interface Preview {
  hear(message: ToPreview): void
  trouble(error: unknown): void
}

const NOT_DRAWN =
  'The piece cannot be drawn here: this browser gives no WebGL 2, or it is switched off. The figures are still right.'
const NO_WOOD =
  'No blank is declared, so there is no wood to show. The path alone says little; declare the blank in a comment or a job sheet.'
const calm = () => matchMedia('(prefers-reduced-motion: reduce)').matches
const standard: Omit<View, 'copy' | 'setup' | 'motion' | 'share'> = {
  stance: 'machine',
  azimuth: -0.42,
  polar: 0.82,
  zoom: 1,
  surface: 'wood',
  path: 'near',
  tint: 'time',
}

/** Builds the page into an element and answers messages. */
export function newPreview(body: HTMLElement): Preview {
  let view: View = { ...standard, copy: '', setup: '', motion: Number.MAX_SAFE_INTEGER, share: 1, ...keptView() }
  let job: PreviewJob | undefined
  let clock: Clock | undefined
  let moment: Moment = { setup: 0, motion: -1, share: 1 }
  let carving: Carving | undefined
  let shown: Shown | undefined
  let pieces: PathPieces | undefined
  let piecesOf = -1
  let scene: Scene | undefined

  const parts = newPage(body)
  const { page, canvas, stage, bar, say } = parts
  const looks = newLooks({
    stance: stand,
    surface(surface) {
      look({ surface })
      ask()
      refresh()
    },
    path(path) {
      look({ path })
      refresh()
    },
    tint(tint) {
      look({ tint })
      refresh()
    },
    copy: copy => post({ type: 'copy', copy }),
  })
  const notes = newNotes(goToFinding)
  const band = newBand(next => {
    watch.stop()
    go(next)
  })
  const watch = newWatch({
    advance(seconds, skipAir) {
      if (!clock) return false
      let next = clock.secondsOf(moment) + seconds
      if (skipAir) next = clock.pastAir(next)
      go(clock.at(next))
      return next < clock.total
    },
    total: () => clock?.total ?? 1,
    step(way) {
      if (!job) return
      watch.stop()
      go(band.lineFrom(moment, way))
    },
  })
  const tools = newTools(parts, {
    scene: () => scene,
    cut() {
      look({ plane: tools.section.plane() })
      const plane = tools.section.plane()
      scene?.cut(plane)
      if (plane) carving?.cutOpen(plane, moment)
      refresh()
    },
    stand,
    ask,
    draw: () => scene?.draw(),
    take,
    goTo: goToFinding,
  })
  parts.heading.append(looks.element)
  stage.after(notes.element)
  parts.line.append(watch.element)
  parts.foot.append(band.element)

  try {
    scene = newScene(canvas, calm, () => {
      page.dataset.still = page.dataset.crisp ?? ''
    })
    Object.assign(scene.orbit, { azimuth: view.azimuth, polar: view.polar, zoom: view.zoom })
    if (view.stance === 'top' || view.stance === 'underside') Object.assign(scene.orbit, { azimuth: 0, polar: 0 })
    scene.stand(view.stance, false)
    page.dataset.renderer = scene.renderer
  } catch {
    page.classList.add('flat')
    canvas.hidden = true
    say(NOT_DRAWN)
  }
  if (scene) listen(scene)
  new ResizeObserver(() => band.layOut()).observe(band.element)
  body.addEventListener('keydown', event => {
    if (event.key !== ' ' || !(event.target instanceof HTMLElement)) return
    if (event.target !== canvas && event.target.getAttribute('role') !== 'slider') return
    event.preventDefault()
    watch.toggle()
  })
  if (!inEditor && !document.getElementById('job')) say('There is no job in this page.')

  function listen(on: Scene) {
    // Before the piece turns by the same keys.
    canvas.addEventListener('keydown', event => {
      if (!tools.measure.key(event)) return
      event.preventDefault()
      event.stopImmediatePropagation()
    })
    steer(canvas, on.orbit, () => on.stance() === 'hand', {
      changed(done) {
        draw(!done)
        if (done) keep()
      },
      picked: (x, y) => (tools.measure.on() ? take(x, y) : pick(x, y)),
      pointed: point,
    })
    canvas.addEventListener('pointerleave', () => notes.under(undefined))
    canvas.addEventListener('webglcontextlost', event => {
      event.preventDefault()
      page.classList.add('lost')
      say('The graphics were taken away for a moment; the piece comes back as soon as they do.')
    })
    canvas.addEventListener('webglcontextrestored', () => {
      page.classList.remove('lost')
      say('')
      draw()
    })
    new ResizeObserver(() => on.resize()).observe(stage)
    on.onFrame(() => tools.draw())
    const dress = () => on.theme(themeOf(document))
    dress()
    onThemeChange(document, dress)
  }

  function draw(moving = false) {
    delete page.dataset.still
    scene?.draw(moving)
  }

  function look(change: Partial<View>) {
    view = { ...view, ...change }
    keep()
  }

  function keep() {
    const { azimuth, polar, zoom } = scene?.orbit ?? view
    const setup = job?.setups[moment.setup]?.name ?? view.setup
    view = { ...view, azimuth, polar, zoom, setup, motion: moment.motion, share: moment.share }
    keepView(view)
  }

  function stand(stance: View['stance'], polar = stance === 'hand' ? 1 : standard.polar, azimuth = standard.azimuth) {
    look({ stance })
    const straight = stance === 'top' || stance === 'underside'
    const orbit = { azimuth: straight ? 0 : azimuth, polar: straight && polar === standard.polar ? 0 : polar }
    Object.assign(scene?.orbit ?? {}, orbit, straight ? { panX: 0, panY: 0 } : {})
    scene?.stand(stance, true)
    refresh()
  }

  function open(next: PreviewJob) {
    job = next
    clock = clockOf(next)
    pieces = undefined
    piecesOf = -1
    page.classList.remove('empty')
    delete page.dataset.built
    parts.title.textContent = next.title || 'Treen'
    notes.show(next)
    band.show(next, clock)
    looks.offer(surfacesOf(next), next.copies)
    if (view.surface === 'gap' && !next.joint?.gaps.length) look({ surface: 'wood' })
    moment = momentKept(next, view)
    look({ copy: next.copy })
    say(!scene ? NOT_DRAWN : next.blanks.length ? '' : NO_WOOD)
    tools.open(next, view.plane)
    if (scene && next.blanks.length) {
      bar.hidden = false
      bar.removeAttribute('value')
      carving ??= startCarving({
        progress(share) {
          bar.value = share
        },
        built(ms, anew) {
          bar.hidden = true
          Object.assign(page.dataset, { built: ms.toFixed(0), anew: String(anew) })
          draw()
        },
        shown: show,
        refined(refined, ms) {
          scene?.piece.refine(refined)
          Object.assign(page.dataset, { crisp: page.dataset.shown, refine: ms.toFixed(0) })
          draw()
        },
        section(section, ms) {
          tools.section.written(section)
          scene?.cap.show(section)
          Object.assign(page.dataset, { section: `${section?.axis} ${section?.at}`, cut: ms.toFixed(1) })
          draw()
        },
        trouble,
      })
      carving.build(next, index => sunsFor(lieAt(next, index.setup)))
    }
    go(moment)
  }

  function go(next: Moment) {
    moment = next
    tools.measure.forget()
    ask()
    refresh()
    keepSoon()
  }

  /** Asks for the picture of the moment as it is looked at. */
  function ask() {
    const values = view.surface === 'thickness' || view.surface === 'left' || view.surface === 'changed'
    carving?.want({
      moment,
      values: values ? (view.surface as 'left') : undefined,
      apart: tools.lift.by() !== undefined,
    })
    const plane = tools.section.plane()
    if (plane) carving?.cutOpen(plane, moment)
  }

  let keeping: ReturnType<typeof setTimeout> | undefined
  function keepSoon() {
    clearTimeout(keeping)
    keeping = setTimeout(() => {
      keep()
      if (!watch.running()) parts.tell(summary())
    }, 500)
  }

  /** What is shown, for who does not see it. */
  function summary(): string {
    return [parts.now.textContent, tools.section.words(), tools.measure.words()].filter(Boolean).join(' ')
  }

  function refresh() {
    if (!job || !clock) return
    const words = sayMoment(job, clock, moment)
    parts.now.textContent = words
    canvas.setAttribute('aria-label', `The piece: ${words}`)
    band.at(moment, words)
    looks.show(view, job.copy)
    if (!scene) return
    const setup = programAt(job, moment.setup)
    if (piecesOf !== moment.setup) {
      pieces = setup && pathPieces(setup, clock.ends(moment.setup))
      piecesOf = moment.setup
      scene.path.show(pieces)
    }
    tools.at(moment)
    const legends = drawMoment(scene, { job, clock, moment, view, pieces })
    fillLegend(notes.pathLegend, legends)
    fillLegend(notes.legend, shown ? drawSurface(scene, job, shown, view.surface) : undefined)
    draw(watch.running() || !bar.hidden)
  }

  function show(next: Shown) {
    if (!scene || !job) return
    shown = next
    drawPicture(scene, job, next)
    refresh()
    // For whoever waits for the picture: what moment it is of, and how long the worker took.
    delete page.dataset.crisp
    page.dataset.shown = `${next.moment.setup}/${next.moment.motion}/${next.moment.share}`
    page.dataset.ms = next.ms.toFixed(1)
  }

  /** A click: the nearest line of the path, else the motion that cut that place of the wood. */
  function pick(x: number, y: number) {
    const setup = programAt(job, moment.setup)
    if (!scene || !shown || !setup || !pieces) return
    const inPicture = (p: readonly [number, number, number]) => scene!.inPicture(p)
    let motion = scene.path.mesh.visible ? motionNear(pieces, inPicture, x, y, 6) : undefined
    if (motion === undefined) {
      const hit = pointOnPiece(x, y)
      if (hit) motion = motionThatCut(setup, pieces, moment.motion, scene.toLying(hit))
    }
    if (motion === undefined) return
    watch.stop()
    go({ setup: moment.setup, motion, share: 1 })
    post({ type: 'line', program: setup.program, line: setup.motions.line[motion] })
  }

  /** Measures from a place of the picture. */
  function take(x: number, y: number) {
    const hit = pointOnPiece(x, y)
    if (!scene || !hit) return tools.measure.take(undefined)
    const beside = scene.project([hit[0] + 1, hit[1], hit[2]])
    const here = scene.project(hit)
    const pixels = here && beside ? Math.max(0.5, Math.hypot(beside[0] - here[0], beside[1] - here[1])) : 3
    const question = { moment, point: hit, upper: scene.seesUpper(), reach: Math.min(4, Math.max(0.2, 10 / pixels)) }
    void carving?.snap(question).then(place => {
      tools.measure.take(place)
      if (tools.measure.words()) page.dataset.measured = tools.measure.words()
    })
  }

  function pointOnPiece(x: number, y: number) {
    if (!scene || !shown) return undefined
    const { origin, direction } = scene.ray(x, y)
    return meet(shown.faces, shown.cell, [origin.x, origin.y, origin.z], [direction.x, direction.y, direction.z])
  }

  function point(x: number, y: number) {
    const hit = pointOnPiece(x, y)
    const column = hit && shown && columnAt(shown.faces, shown.cell, hit[0], hit[1])
    if (!hit || !column || !scene || !job) return notes.under(undefined)
    const thickness = blankAt(job, moment.setup)?.thickness ?? 0
    const depth = scene.seesUpper() ? thickness - hit[2] : hit[2]
    notes.under({ depth, thickness: column.top - column.bottom })
  }

  function goToFinding(finding: PreviewFinding) {
    watch.stop()
    goToLine(finding.file, finding.range.start.line, finding.setup)
    post({ type: 'line', program: finding.file, line: finding.range.start.line })
  }

  function goToLine(program: string, line: number, name?: string) {
    const next = job && momentOfLine(job, moment, program, line, name)
    if (next) go(next)
  }

  function trouble(error: unknown) {
    const message = error instanceof Error ? error.message : String(error)
    bar.hidden = true
    say(`The preview could not be made: ${message}`)
    post({ type: 'trouble', message })
  }

  return {
    trouble,
    hear(message) {
      switch (message.type) {
        case 'job':
          return open(message.job)
        case 'packed':
          return open(jobFromText(message.job))
        case 'nothing':
          carving?.stop()
          carving = undefined
          job = undefined
          page.classList.add('empty')
          return say(message.why)
        case 'failed':
          return say(message.why)
        case 'caret':
          watch.stop()
          return goToLine(message.program, message.line)
      }
    },
  }
}
