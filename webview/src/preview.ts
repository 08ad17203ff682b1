import type { PreviewFinding, PreviewJob, PreviewSetup, ToPreview } from '../../server/src/features/preview/protocol.ts'
import { jobFromText } from '../../server/src/features/preview/wire.ts'
import { newBand } from './band.ts'
import { type Carving, type Shown, startCarving } from './carving.ts'
import { type Clock, clockOf, type Moment } from './clock.ts'
import { niceDepth } from './depthScale.ts'
import { make } from './dom.ts'
import { inEditor, keepView, keptView, post, type View } from './editor.ts'
import { fillLegend } from './legend.ts'
import { newLooks } from './looks.ts'
import { pointAt } from './motionPath.ts'
import { newNotes } from './notes.ts'
import { steer } from './orbit.ts'
import { type PathPieces, pathPieces } from './pathModel.ts'
import { columnAt, meet, motionNear, motionThatCut } from './picking.ts'
import { newScene, type Scene } from './scene.ts'
import { sunsFor } from './suns.ts'
import { onThemeChange, themeOf } from './theme.ts'
import { newWatch } from './watch.ts'
import { sayMoment } from './words.ts'

export interface Preview {
  hear(message: ToPreview): void
  trouble(error: unknown): void
}

const NOT_DRAWN =
  'The piece cannot be drawn here: this browser gives no WebGL 2, or it is switched off. The figures are still right.'
const calm = () => matchMedia('(prefers-reduced-motion: reduce)').matches
const standard: Omit<View, 'copy' | 'setup' | 'motion' | 'share'> = {
  stance: 'machine',
  azimuth: -0.42,
  polar: 0.82,
  zoom: 1,
  byDepth: false,
  path: 'near',
}

/** Builds the page into an element and answers messages. */
export function newPreview(body: HTMLElement): Preview {
  const kept = keptView()
  let view: View = { ...standard, copy: '', setup: '', motion: -1, share: 1, ...kept }
  let job: PreviewJob | undefined
  let clock: Clock | undefined
  let moment: Moment = { setup: 0, motion: -1, share: 1 }
  let carving: Carving | undefined
  let shown: Shown | undefined
  let pieces: PathPieces | undefined
  let piecesOf = -1
  let scene: Scene | undefined

  const page = make('main', 'page')
  const title = make('h1', 'title', 'Treen')
  const now = make('p', 'now')
  const heading = make('header', 'heading')
  heading.append(title)
  const canvas = make('canvas', 'piece', '', {
    tabindex: '0',
    role: 'application',
    'aria-roledescription': 'view of the piece',
    'aria-label': 'The piece',
    'aria-describedby': 'piece-keys',
  })
  const keys = make(
    'p',
    'unseen',
    'Arrow keys turn the piece, with shift they move it, plus and minus come nearer and go back, home shows all of it.',
    { id: 'piece-keys' },
  )
  const stage = make('section', 'stage', '', { 'aria-label': 'The piece' })
  const notice = make('div', 'notice')
  const bar = make('progress', 'carving', '', { max: '1', 'aria-label': 'Carving the blank' })
  bar.hidden = true
  const live = make('p', 'unseen', '', { 'aria-live': 'polite' })
  stage.append(canvas, notice, bar, keys)
  const looks = newLooks({
    stance(stance) {
      look({ stance })
      if (stance === 'top' || stance === 'underside')
        Object.assign(scene?.orbit ?? {}, { azimuth: 0, polar: 0, panX: 0, panY: 0 })
      else
        Object.assign(scene?.orbit ?? {}, { azimuth: standard.azimuth, polar: stance === 'hand' ? 1 : standard.polar })
      scene?.stand(stance, true)
      refresh()
    },
    byDepth(byDepth) {
      look({ byDepth })
      refresh()
    },
    path(path) {
      look({ path })
      refresh()
    },
    copy: copy => post({ type: 'copy', copy }),
  })
  const notes = newNotes(goToFinding)
  const band = newBand(next => {
    watch.stop()
    go(next)
  })
  const watch = newWatch(
    seconds => {
      if (!clock) return false
      const next = clock.secondsOf(moment) + seconds
      go(clock.at(next))
      return next < clock.total
    },
    () => clock?.total ?? 1,
    () => undefined,
  )
  const foot = make('footer', 'foot')
  const line = make('div', 'line')
  line.append(now, watch.element)
  foot.append(line, band.element)
  heading.append(looks.element)
  page.append(heading, stage, notes.element, foot, live)
  body.replaceChildren(...[...body.children].filter(child => child.tagName === 'SCRIPT'), page)
  page.classList.add('empty')

  try {
    scene = newScene(canvas, calm)
    Object.assign(scene.orbit, { azimuth: view.azimuth, polar: view.polar, zoom: view.zoom })
    scene.stand(view.stance, false)
  } catch {
    page.classList.add('flat')
    canvas.hidden = true
    say(NOT_DRAWN)
  }
  if (scene) {
    steer(canvas, scene.orbit, () => scene?.stance() === 'hand', {
      changed(done) {
        scene?.draw(!done)
        if (done) keep()
      },
      picked: pick,
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
      scene?.draw()
    })
    new ResizeObserver(() => scene?.resize()).observe(stage)
    const dress = () => scene?.theme(themeOf(document))
    dress()
    onThemeChange(document, dress)
  }
  new ResizeObserver(() => band.layOut()).observe(band.element)
  body.addEventListener('keydown', event => {
    if (event.key !== ' ' || !(event.target instanceof HTMLElement)) return
    if (event.target !== canvas && event.target.getAttribute('role') !== 'slider') return
    event.preventDefault()
    watch.toggle()
  })
  if (!inEditor && !document.getElementById('job')) say('There is no job in this page.')

  function say(text: string) {
    notice.textContent = text
    notice.hidden = !text
    if (text) live.textContent = text
  }

  function look(change: Partial<View>) {
    view = { ...view, ...change }
    keep()
  }

  function keep() {
    const { azimuth, polar, zoom } = scene?.orbit ?? view
    view = {
      ...view,
      azimuth,
      polar,
      zoom,
      setup: job?.setups[moment.setup]?.name ?? view.setup,
      motion: moment.motion,
      share: moment.share,
    }
    keepView(view)
  }

  function programAt(index: number): Extract<PreviewSetup, { kind: 'program' }> | undefined {
    const setup = job?.setups[index]
    return setup?.kind === 'program' ? setup : undefined
  }

  function blankAt(index: number) {
    const name = job?.setups[index]?.blank
    return job?.blanks.find(blank => blank.name === name) ?? job?.blanks[0]
  }

  /** The lie of a step that no program does is that of the nearest before it on the same blank. */
  function lieAt(index: number) {
    for (let i = Math.min(index, (job?.setups.length ?? 0) - 1); i >= 0; i--) {
      const setup = job!.setups[i]
      if (setup.kind === 'program' && setup.blank === job!.setups[index].blank) return setup.lie
    }
    return { face: 'top', turn: 'sideways', spin: 0 } as const
  }

  function open(next: PreviewJob) {
    job = next
    clock = clockOf(next)
    carving?.stop()
    pieces = undefined
    piecesOf = -1
    page.classList.remove('empty')
    title.textContent = next.title || 'Treen'
    notes.show(next)
    band.show(next, clock)
    moment = momentOfView(next)
    look({ copy: next.copy })
    say(scene ? '' : NOT_DRAWN)
    if (!next.blanks.length)
      say(
        'No blank is declared, so there is no wood to show. The path alone says little; declare the blank in a comment or a job sheet.',
      )
    if (scene && next.blanks.length) {
      bar.hidden = false
      bar.value = 0
      carving = startCarving(next, index => sunsFor(lieAt(index.setup)), {
        progress(share) {
          bar.value = share
        },
        built(ms) {
          bar.hidden = true
          page.dataset.built = ms.toFixed(0)
          scene?.draw()
        },
        shown: show,
        refined(refined) {
          scene?.piece.refine(refined)
          scene?.draw()
          page.dataset.crisp = page.dataset.shown
        },
        trouble: message => trouble(message),
      })
    }
    go(moment)
  }

  /** The kept place, where the job still has it; else the end, with the piece as it will be. */
  function momentOfView(next: PreviewJob): Moment {
    const setup = next.setups.findIndex(each => each.name === view.setup)
    const at = next.setups[setup]
    if (setup >= 0 && at) {
      const most = at.kind === 'program' ? at.motions.count - 1 : -1
      return { setup, motion: Math.min(view.motion, most), share: view.share }
    }
    const last = next.setups.length - 1
    const end = next.setups[last]
    return { setup: Math.max(0, last), motion: end?.kind === 'program' ? end.motions.count - 1 : -1, share: 1 }
  }

  function go(next: Moment) {
    moment = next
    carving?.want(moment)
    refresh()
    keepSoon()
  }

  let keeping: ReturnType<typeof setTimeout> | undefined
  function keepSoon() {
    clearTimeout(keeping)
    keeping = setTimeout(() => {
      keep()
      if (!watch.running()) live.textContent = now.textContent
    }, 500)
  }

  function refresh() {
    if (!job || !clock) return
    const words = sayMoment(job, clock, moment)
    now.textContent = words
    canvas.setAttribute('aria-label', `The piece: ${words}`)
    band.at(moment, words)
    looks.show(view, job.copy, job.copies)
    const setup = programAt(moment.setup)
    if (!scene) return
    if (piecesOf !== moment.setup) {
      pieces = setup && pathPieces(setup, clock.ends(moment.setup))
      piecesOf = moment.setup
      scene.path.show(pieces)
    }
    const inside = clock.secondsOf(moment) - clock.starts[moment.setup]
    const length = clock.starts[moment.setup + 1] - clock.starts[moment.setup]
    scene.path.time(inside, Math.min(12, length * 0.06), view.path === 'near')
    scene.path.mesh.visible = view.path !== 'none' && !!pieces?.count && scene.stance() !== 'hand'
    placeBit(setup)
    const deepest = niceDepth(blankAt(moment.setup)?.thickness ?? 10)
    scene.piece.uniforms.byDepth.value = view.byDepth
    scene.piece.uniforms.deepest.value = deepest.top
    notes.legend.hidden = !view.byDepth
    if (view.byDepth) fillLegend(notes.legend, deepest)
    scene.draw(watch.running() || !bar.hidden)
  }

  function placeBit(setup: Extract<PreviewSetup, { kind: 'program' }> | undefined) {
    if (!scene) return
    const over = setup && moment.motion >= setup.motions.count - 1 && moment.share >= 1
    if (!setup || moment.motion < 0 || over) return scene.tip(undefined)
    const bit = setup.bits[setup.bitOfState[setup.motions.state[moment.motion]]]
    const p = pointAt(setup.motions, moment.motion, moment.share)
    scene.bit.show(bit)
    // A height that nobody has said is not made up: the bit is not drawn.
    scene.tip(
      bit && p.every(Number.isFinite)
        ? [p[0] + setup.shift[0], p[1] + setup.shift[1], p[2] + setup.shift[2]]
        : undefined,
    )
  }

  function show(next: Shown) {
    if (!scene || !job) return
    shown = next
    const blank = blankAt(next.moment.setup)
    if (!blank) return
    const before = job.setups.slice(0, next.moment.setup + 1)
    const inserts = before.flatMap(setup =>
      setup.kind === 'insert' && setup.blank === blank.name
        ? [{ material: setup.material, resin: setup.of === 'resin' }]
        : [],
    )
    scene.piece.dress(blank, inserts)
    scene.piece.show(next.faces, next.light, next.cell)
    scene.set(blank, lieAt(next.moment.setup), [next.faces.lowest, next.faces.highest], next.light.ground)
    refresh()
    // For whoever waits for the picture: what moment it is of, and how long the worker took.
    delete page.dataset.crisp
    page.dataset.shown = `${next.moment.setup}/${next.moment.motion}/${next.moment.share}`
    page.dataset.ms = next.ms.toFixed(1)
  }

  /** A click: the nearest line of the path, else the motion that cut that place of the wood. */
  function pick(x: number, y: number) {
    const setup = programAt(moment.setup)
    if (!scene || !shown || !setup || !pieces) return
    const inPicture = (p: readonly [number, number, number]) => scene!.inPicture(p)
    let motion = scene.path.mesh.visible ? motionNear(pieces, inPicture, x, y, 6) : undefined
    if (motion === undefined) {
      const hit = pointOnPiece(x, y)
      if (!hit) return
      const lying = scene.toLying(hit)
      motion = motionThatCut(setup, pieces, moment.motion, lying)
    }
    if (motion === undefined) return
    watch.stop()
    go({ setup: moment.setup, motion, share: 1 })
    post({ type: 'line', program: setup.program, line: setup.motions.line[motion] })
  }

  function pointOnPiece(x: number, y: number) {
    if (!scene || !shown) return undefined
    const { origin, direction } = scene.ray(x, y)
    return meet(shown.faces, shown.cell, [origin.x, origin.y, origin.z], [direction.x, direction.y, direction.z])
  }

  function point(x: number, y: number) {
    const hit = pointOnPiece(x, y)
    const column = hit && shown && columnAt(shown.faces, shown.cell, hit[0], hit[1])
    if (!hit || !column || !scene) return notes.under(undefined)
    const thickness = blankAt(moment.setup)?.thickness ?? 0
    const depth = scene.piece.uniforms.upper.value ? thickness - hit[2] : hit[2]
    notes.under({ depth, thickness: column.top - column.bottom })
  }

  function goToFinding(finding: PreviewFinding) {
    watch.stop()
    goToLine(finding.file, finding.range.start.line, finding.setup)
    post({ type: 'line', program: finding.file, line: finding.range.start.line })
  }

  /** The last motion that the line made, or the next line's after it that made one. */
  function goToLine(program: string, line: number, name?: string) {
    if (!job) return
    const fits = (setup: PreviewSetup) => setup.kind === 'program' && setup.program === program
    let index = job.setups.findIndex(setup => fits(setup) && setup.name === name)
    if (index < 0 && fits(job.setups[moment.setup])) index = moment.setup
    if (index < 0) index = job.setups.findIndex(fits)
    const setup = programAt(index)
    if (!setup) return
    const { line: lines, count } = setup.motions
    let motion = lines.lastIndexOf(line)
    if (motion < 0) motion = lines.findIndex(each => each > line) - 1
    if (motion < -1 || (motion === -1 && count && lines[0] <= line)) motion = count - 1
    go({ setup: index, motion, share: 1 })
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
