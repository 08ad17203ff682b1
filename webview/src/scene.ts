import * as THREE from 'three'
import type { SectionPlane } from '../../server/src/features/preview/protocol.ts'
import type { BlankSize, Lie } from '../../server/src/stock/lie.ts'
import { type Bench, newBench } from './bench.ts'
import { type BitModel, newBitModel } from './bitModel.ts'
import { type Cap, newCap } from './cap.ts'
import { type Clamps, newClamps } from './clamps.ts'
import type { View } from './editor.ts'
import { aim, FIELD } from './eye.ts'
import { grainTexture } from './grain.ts'
import { halton, newLayering } from './layering.ts'
import { lieMap } from './lie.ts'
import type { Ground } from './light.ts'
import { type Orbit, settle } from './orbit.ts'
import { newPathModel, type PathModel } from './pathModel.ts'
import { newPiece, type Piece } from './piece.ts'
import { TOWARDS_WINDOW } from './suns.ts'
import type { Theme } from './theme.ts'
import { newTurning } from './turning.ts'

export type Stance = View['stance']

const SUN = new THREE.Vector3(...TOWARDS_WINDOW).normalize()
/** Takes nothing away. */
const NO_CUT = new THREE.Vector4(0, 0, 0, 1e9)
/** A frame that takes longer than this, ms, is drawn smaller while something moves. */
const SLOW = 45
/** Pictures laid over one another when nothing moves, each shifted by part of a pixel: edges without steps. */
const LAYERS = 6
const LAYERS_SOFTWARE = 3

export interface Scene {
  readonly piece: Piece
  /** What was set in, where it is drawn by itself. */
  readonly inlay: Piece
  readonly cap: Cap
  readonly clamps: Clamps
  /** The gap along the pocket's wall, frame of the blank. */
  readonly gaps: PathModel
  /** Cuts the piece open; undefined: it is whole. */
  cut(plane: SectionPlane | undefined): void
  /** Whether the blank's upper face is looked at. */
  seesUpper(): boolean
  /** Lifts what was set in, mm along the blank's Z. */
  lift(by: number): void
  readonly path: PathModel
  readonly bit: BitModel
  readonly orbit: Orbit
  readonly stance: () => Stance
  /** The blank that is shown, how it lies, and what of it is solid (lowest, highest). */
  set(size: BlankSize, lie: Lie, solid: readonly [number, number], ground: Ground): void
  stand(stance: Stance, animate: boolean): void
  /** Tip of the bit, frame of the stock as it lies; undefined where it is not known. */
  tip(at: readonly [number, number, number] | undefined): void
  theme(theme: Theme): void
  resize(): void
  /** Something changed: draw when the screen is next ready. `moving`: more will follow. */
  draw(moving?: boolean): void
  /** A ray through a place of the picture (CSS pixels), in the frame of the blank. */
  ray(x: number, y: number): { readonly origin: THREE.Vector3; readonly direction: THREE.Vector3 }
  /** Calls back before each picture is drawn, when `project` already tells where things will be in it. */
  onFrame(then: () => void): void
  /** Where a point of the blank is in the picture, CSS pixels; undefined behind the eye. */
  project(p: readonly [number, number, number]): readonly [number, number] | undefined
  /** Where a point of the frame as it lies is in the picture, CSS pixels; undefined behind the eye. */
  inPicture(p: readonly [number, number, number]): readonly [number, number] | undefined
  /** A point of the blank where it lies on the machine. */
  toLying(p: readonly [number, number, number]): [number, number, number]
  /** A name of what draws, for reports of speed. */
  readonly renderer: string
  readonly drawn: () => { readonly frames: number; readonly ms: number }
  dispose(): void
}

/**
 * The shop: bench, piece, path and bit, drawn only when something changed. `rested` is called when a picture is as
 * fine as it gets.
 * @throws where the browser has no WebGL 2.
 */
export function newScene(canvas: HTMLCanvasElement, calm: () => boolean, rested: () => void): Scene {
  const gl = canvas.getContext('webgl2', {
    antialias: false,
    alpha: false,
    // The pictures at rest are laid over one another on the canvas itself.
    preserveDrawingBuffer: true,
    powerPreference: 'high-performance',
  })
  if (!gl) throw new Error('no WebGL 2')
  const info = gl.getExtension('WEBGL_debug_renderer_info')
  const name = String(gl.getParameter(info ? info.UNMASKED_RENDERER_WEBGL : gl.RENDERER))
  const renderer = new THREE.WebGLRenderer({ canvas, context: gl, antialias: false })
  renderer.outputColorSpace = THREE.LinearSRGBColorSpace
  renderer.autoClear = false
  const scene = new THREE.Scene()
  const camera = new THREE.PerspectiveCamera(FIELD, 1, 10, 5000)
  camera.up.set(0, 0, 1)

  const sunInBlank = { value: SUN.clone() }
  const eyeInBlank = { value: new THREE.Vector3() }
  const shadows = { value: 1 }
  const cutPlane = { value: NO_CUT.clone() }
  let plane: SectionPlane | undefined
  /** How far what is set in is lifted out of its pocket, mm along the blank's Z. */
  let lifted = 0
  const grain = { value: grainTexture() }
  const shared = {
    grain,
    sun: sunInBlank,
    eye: eyeInBlank,
    sky: { value: new THREE.Vector3(0.5, 0.53, 0.57) },
    bounce: { value: new THREE.Vector3(0.2, 0.18, 0.16) },
    sunlight: { value: 0.78 },
    shadows,
    cutPlane,
  }
  const piece = newPiece(shared)
  const inlay = newPiece(shared)
  const cap = newCap(piece.uniforms)
  const clamps = newClamps()
  const gaps = newPathModel()
  const bench: Bench = newBench({ sun: { value: SUN }, grain, cutPlane })
  const path = newPathModel()
  const bit = newBitModel()
  /** Frame of the blank. */
  const joint = new THREE.Group()
  joint.matrixAutoUpdate = false
  joint.add(gaps.mesh)
  /** Frame of the stock as it lies. */
  const lying = new THREE.Group()
  lying.matrixAutoUpdate = false
  lying.add(path.mesh, bit.object, clamps.object)
  scene.add(bench.mesh, piece.object, inlay.object, cap.object, joint, lying)
  const background = new THREE.Color()

  const orbit: Orbit = { azimuth: -0.42, polar: 0.82, zoom: 1, panX: 0, panY: 0 }
  let stance: Stance = 'machine'
  let size: BlankSize = { width: 100, depth: 100, thickness: 20 }
  let lie: Lie = { face: 'top', turn: 'sideways', spin: 0 }
  let solid: readonly [number, number] = [0, 20]
  let hasBit = false
  const turning = newTurning()
  const framed = new Set<() => void>()

  const ratioAtRest = () => Math.min(globalThis.devicePixelRatio || 1, 2)
  let ratio = ratioAtRest()
  let frames = 0
  let lastMs = 0
  const layers = /swiftshader|llvmpipe|software|basic render/i.test(name) ? LAYERS_SOFTWARE : LAYERS
  let layer = layers
  let movingUntil = 0
  let asked = 0
  const layered = new THREE.WebGLRenderTarget(1, 1, { depthBuffer: true })
  const over = newLayering(layered.texture)

  function rotationOf(which: Stance): THREE.Quaternion {
    const map = lieMap(
      which === 'top'
        ? { face: 'top', turn: 'sideways', spin: 0 }
        : which === 'underside'
          ? { face: 'underside', turn: 'sideways', spin: 0 }
          : lie,
      size,
    )
    const basis = new THREE.Matrix4().makeBasis(
      new THREE.Vector3(...map.x),
      new THREE.Vector3(...map.y),
      new THREE.Vector3(...map.z),
    )
    return new THREE.Quaternion().setFromRotationMatrix(basis)
  }

  const turnTo = (animate: boolean) => turning.to(rotationOf(stance), animate && !calm())

  /** Where blank and machine are in the shop now. */
  function place() {
    const height = solid[1] - solid[0]
    const pivot = new THREE.Vector3(size.width / 2, size.depth / 2, (solid[0] + solid[1]) / 2)
    const matrix = new THREE.Matrix4()
      .makeTranslation(0, 0, height / 2 + turning.lift())
      .multiply(new THREE.Matrix4().makeRotationFromQuaternion(turning.now))
      .multiply(new THREE.Matrix4().makeTranslation(-pivot.x, -pivot.y, -pivot.z))
    piece.object.matrix.copy(matrix)
    piece.object.matrixWorldNeedsUpdate = true
    inlay.object.matrix.copy(matrix).multiply(new THREE.Matrix4().makeTranslation(0, 0, lifted))
    inlay.object.matrixWorldNeedsUpdate = true
    cap.object.matrix.copy(matrix)
    cap.object.matrixWorldNeedsUpdate = true
    joint.matrix.copy(matrix)
    joint.matrixWorldNeedsUpdate = true
    const map = lieMap(lie, size)
    const toLying = new THREE.Matrix4()
      .makeBasis(new THREE.Vector3(...map.x), new THREE.Vector3(...map.y), new THREE.Vector3(...map.z))
      .setPosition(...(map.shift as [number, number, number]))
    lying.matrix.copy(matrix).multiply(toLying.invert())
    lying.matrixWorldNeedsUpdate = true
    const aligned = turning.now.angleTo(rotationOf('machine')) < 0.02
    bit.object.visible = hasBit && aligned && stance !== 'hand'
    bench.mesh.visible = stance !== 'hand'
    const toBlank = matrix.clone().invert()
    const inTheAir = turning.moving() ? 1 - Math.min(1, turning.lift() / 30) : 1
    bench.under(toBlank, inTheAir, renderer.domElement.width, renderer.domElement.height)
    aim(camera, orbit, { size, lie, solid })
    eyeInBlank.value.copy(camera.position).applyMatrix4(toBlank)
    const sun = stance === 'hand' ? SUN.clone().applyAxisAngle(new THREE.Vector3(0, 0, 1), orbit.azimuth) : SUN.clone()
    if (stance === 'hand' && orbit.polar > Math.PI / 2) sun.z = -sun.z
    sunInBlank.value.copy(sun.transformDirection(toBlank))
    shadows.value = turning.moving() || stance === 'hand' ? 0.25 : 1
    if (plane) {
      // What stands between the eye and the plane is taken away.
      const axis = plane.axis === 'x' ? 0 : 1
      const side = eyeInBlank.value.getComponent(axis) > plane.at ? 1 : -1
      cutPlane.value.set(axis === 0 ? side : 0, axis === 1 ? side : 0, 0, side * plane.at)
      cap.away(side)
    } else cutPlane.value.copy(NO_CUT)
    inlay.face(eyeInBlank.value.z > (solid[0] + solid[1]) / 2 + lifted)
    clamps.object.visible = aligned && stance !== 'hand'
    piece.face(eyeInBlank.value.z > (solid[0] + solid[1]) / 2)
  }

  function frame() {
    asked = 0
    if (gl!.isContextLost()) return
    const began = performance.now()
    if (turning.moving()) {
      if (turning.step(began, Math.min(size.width, size.depth) * 0.5)) movingUntil = began + 80
      layer = 0
    }
    const moving = began < movingUntil
    const wanted = moving && lastMs > SLOW ? Math.max(0.5, ratioAtRest() * 0.55) : ratioAtRest()
    if (wanted !== ratio) {
      ratio = wanted
      resizeTo()
    }
    place()
    for (const then of framed) then()
    const width = renderer.domElement.width
    const height = renderer.domElement.height
    if (moving || layer <= 1) {
      camera.clearViewOffset()
      paint(null)
      if (!moving) layer = 1
    } else {
      // Each further picture is shifted within the pixel and laid over the ones before in equal parts.
      const [jx, jy] = [halton(layer, 2) - 0.5, halton(layer, 3) - 0.5]
      camera.setViewOffset(width, height, jx, jy, width, height)
      paint(layered)
      camera.clearViewOffset()
      over.lay(renderer, 1 / layer)
    }
    gl!.finish?.()
    if (moving) lastMs = performance.now() - began
    frames++
    if (moving) request()
    else if (layer < layers) {
      layer++
      request()
    } else rested()
  }

  function paint(target: THREE.WebGLRenderTarget | null) {
    renderer.setRenderTarget(target)
    renderer.setClearColor(background, 1)
    renderer.clear()
    renderer.render(scene, camera)
    renderer.setRenderTarget(null)
  }

  function pictured(p: readonly [number, number, number], matrix: THREE.Matrix4) {
    const v = new THREE.Vector4(p[0], p[1], p[2], 1)
      .applyMatrix4(matrix)
      .applyMatrix4(camera.matrixWorldInverse)
      .applyMatrix4(camera.projectionMatrix)
    if (v.w <= 0) return undefined
    return [((v.x / v.w + 1) / 2) * canvas.clientWidth, ((1 - v.y / v.w) / 2) * canvas.clientHeight] as const
  }

  function request() {
    if (!asked) asked = requestAnimationFrame(frame)
  }

  function resizeTo() {
    const { clientWidth, clientHeight } = canvas
    renderer.setPixelRatio(ratio)
    renderer.setSize(Math.max(1, clientWidth), Math.max(1, clientHeight), false)
    layered.setSize(renderer.domElement.width, renderer.domElement.height)
    camera.aspect = Math.max(1, clientWidth) / Math.max(1, clientHeight)
    camera.updateProjectionMatrix()
    path.viewport(renderer.domElement.width, renderer.domElement.height, Math.max(1, ratio))
    gaps.viewport(renderer.domElement.width, renderer.domElement.height, Math.max(1, ratio), 2.6)
  }

  return {
    piece,
    inlay,
    cap,
    clamps,
    gaps,
    cut(next) {
      plane = next
      if (!next) cap.show(undefined)
      this.draw()
    },
    seesUpper: () => eyeInBlank.value.z > (solid[0] + solid[1]) / 2,
    lift(by) {
      lifted = by
      this.draw(true)
    },
    path,
    bit,
    orbit,
    renderer: name,
    stance: () => stance,
    drawn: () => ({ frames, ms: lastMs }),
    set(nextSize, nextLie, nextSolid, ground) {
      const other = nextSize.width !== size.width || nextSize.depth !== size.depth
      size = nextSize
      lie = nextLie
      solid = nextSolid
      bench.shade(ground, size, solid[1] - solid[0])
      if (stance === 'machine' || stance === 'hand') turnTo(!other && frames > 0)
      this.draw()
    },
    stand(next, animate) {
      stance = next
      settle(orbit, next === 'hand')
      turnTo(animate)
      this.draw()
    },
    tip(at) {
      hasBit = !!at
      if (at) bit.object.position.set(...(at as [number, number, number]))
    },
    theme(theme) {
      background.setRGB(theme.page.r, theme.page.g, theme.page.b)
      bench.theme(theme.page, theme.dark, theme.contrast)
      path.theme(theme.pencil, theme.fresh, theme.thread)
      shared.sunlight.value = theme.dark ? 0.74 : 0.82
      this.draw()
    },
    resize() {
      ratio = ratioAtRest()
      resizeTo()
      this.draw()
    },
    draw(moving = false) {
      if (moving) movingUntil = performance.now() + 200
      layer = 0
      request()
    },
    ray(x, y) {
      place()
      const at = new THREE.Vector3((x / canvas.clientWidth) * 2 - 1, 1 - (y / canvas.clientHeight) * 2, 0.5)
      const toBlank = piece.object.matrix.clone().invert()
      const through = at.unproject(camera).applyMatrix4(toBlank)
      const origin = camera.position.clone().applyMatrix4(toBlank)
      return { origin, direction: through.sub(origin).normalize() }
    },
    onFrame: then => void framed.add(then),
    project: p => pictured(p, piece.object.matrix),
    inPicture: p => pictured(p, lying.matrix),
    toLying(p) {
      const point = new THREE.Vector3(...p).applyMatrix4(piece.object.matrix)
      return point.applyMatrix4(lying.matrix.clone().invert()).toArray()
    },
    dispose() {
      cancelAnimationFrame(asked)
      piece.dispose()
      inlay.dispose()
      cap.dispose()
      clamps.dispose()
      gaps.dispose()
      bench.dispose()
      path.dispose()
      bit.dispose()
      layered.dispose()
      grain.value.dispose()
      over.dispose()
      renderer.dispose()
    },
  }
}
