import * as THREE from 'three'
import type { PreviewSetup } from '../../server/src/features/preview/protocol.ts'
import { MotionKind } from '../../server/src/machine/motions.ts'
import type { LegendOf } from './legend.ts'
import { isKnown, piecesOf, pointAt } from './motionPath.ts'
import { scaleTexture } from './scaleTexture.ts'

type Programmed = Extract<PreviewSetup, { kind: 'program' }>

/** Straight pieces of a path as it lies: what is drawn, and what is picked from. */
export interface PathPieces {
  readonly count: number
  /** Six numbers a piece: from, to. */
  readonly ends: Float32Array
  /** Seconds since the set-up's start at both ends. */
  readonly times: Float32Array
  readonly motion: Uint32Array
  readonly rapid: Uint8Array
}

/** A path in straight pieces, motions whose ends nobody has said left out. */
export function pathPieces(setup: Programmed, motionEnds: Float64Array): PathPieces {
  const { motions, shift } = setup
  const ends: number[] = []
  const times: number[] = []
  const motion: number[] = []
  const rapid: number[] = []
  for (let i = 0; i < motions.count; i++) {
    if (!isKnown(motions, i)) continue
    const pieces = piecesOf(motions, i)
    const began = i > 0 ? motionEnds[i - 1] : 0
    let from = pointAt(motions, i, 0)
    for (let k = 1; k <= pieces; k++) {
      const to = pointAt(motions, i, k / pieces)
      ends.push(...from.map((c, a) => c + shift[a]), ...to.map((c, a) => c + shift[a]))
      times.push(began + ((motionEnds[i] - began) * (k - 1)) / pieces, began + ((motionEnds[i] - began) * k) / pieces)
      motion.push(i)
      rapid.push(motions.kind[i] === MotionKind.rapid ? 1 : 0)
      from = to
    }
  }
  return {
    count: motion.length,
    ends: Float32Array.from(ends),
    times: Float32Array.from(times),
    motion: Uint32Array.from(motion),
    rapid: Uint8Array.from(rapid),
  }
}

/** The path as drawn lines: cuts in pencil, rapids as a thread that thins out where the bit is in the air. */
export interface PathModel {
  readonly mesh: THREE.Mesh
  show(pieces: PathPieces | undefined): void
  /** Colours each piece by the number of its motion; NaN: as a rapid. Undefined: by the order only. */
  tint(values: Float32Array | undefined, legend?: Pick<LegendOf, 'scale' | 'from' | 'to'>): void
  /** Seconds since the set-up's start; what lies `trail` seconds back is drawn strongest, or alone if `only`. */
  time(now: number, trail: number, only: boolean): void
  theme(pencil: THREE.Color, fresh: THREE.Color, thread: THREE.Color): void
  viewport(width: number, height: number, ratio: number, thick?: number): void
  dispose(): void
}

const vertex = /* glsl */ `
in vec3 from;
in vec3 to;
in vec2 times;
in float rapid;
in float value;
uniform vec2 viewport;
uniform float thick;
out float along;
out float seconds;
out float air;
out float number;
void main() {
  vec4 a = projectionMatrix * modelViewMatrix * vec4(from, 1.0);
  vec4 b = projectionMatrix * modelViewMatrix * vec4(to, 1.0);
  vec2 d = (b.xy / b.w - a.xy / a.w) * viewport;
  d = length(d) > 1e-4 ? normalize(d) : vec2(1.0, 0.0);
  vec2 side = vec2(-d.y, d.x);
  float t = position.x;
  vec4 p = mix(a, b, t);
  float wide = thick * (rapid > 0.5 ? 0.8 : 1.0);
  p.xy += (side * position.y + d * (t * 2.0 - 1.0) * 0.4) * wide / viewport * p.w;
  // On the floor that it has just cut, a path must not sink into it.
  p.z -= 0.0006 * p.w;
  along = t;
  seconds = mix(times.x, times.y, t);
  air = rapid;
  number = value;
  gl_Position = p;
}
`

const fragment = /* glsl */ `
precision highp float;
uniform float now;
uniform float trail;
uniform bool only;
uniform vec3 pencil;
uniform vec3 fresh;
uniform vec3 thread;
in float along;
in float seconds;
in float air;
in float number;
uniform bool tinted;
uniform vec2 range;
uniform sampler2D scale;
out vec4 colour;
void main() {
  float ahead = step(now, seconds);
  if (only && (seconds > now + trail * 0.35 || seconds < now - trail)) discard;
  float recent = (1.0 - ahead) * clamp(1.0 - (now - seconds) / trail, 0.0, 1.0);
  if (air > 0.5) {
    float ends = pow(abs(along * 2.0 - 1.0), 1.6);
    colour = vec4(thread, (0.16 + 0.6 * ends) * mix(0.75, 0.4, ahead));
  } else {
    vec3 c = mix(pencil, fresh, recent);
    float share = (number - range.x) / (range.y - range.x);
    if (tinted) c = texture(scale, vec2(clamp(share, 0.002, 0.998), 0.5)).rgb;
    colour = vec4(c, tinted ? mix(0.95, 0.35, ahead) : mix(mix(0.38, 0.95, recent), 0.2, ahead));
  }
}
`

/** The model of a path, empty. */
export function newPathModel(): PathModel {
  const uniforms = {
    viewport: { value: new THREE.Vector2(1, 1) },
    thick: { value: 1.5 },
    tinted: { value: false },
    range: { value: new THREE.Vector2(0, 1) },
    scale: { value: null as THREE.DataTexture | null },
    now: { value: 0 },
    trail: { value: 1 },
    only: { value: false },
    pencil: { value: new THREE.Vector3() },
    fresh: { value: new THREE.Vector3() },
    thread: { value: new THREE.Vector3() },
  }
  const material = new THREE.ShaderMaterial({
    glslVersion: THREE.GLSL3,
    vertexShader: vertex,
    fragmentShader: fragment,
    uniforms,
    transparent: true,
    depthWrite: false,
    side: THREE.DoubleSide,
  })
  const mesh = new THREE.Mesh(new THREE.InstancedBufferGeometry(), material)
  mesh.frustumCulled = false
  mesh.visible = false
  mesh.renderOrder = 2
  let shown: PathPieces | undefined
  const put = (vector: THREE.Vector3, { r, g, b }: THREE.Color) => vector.set(r, g, b)
  return {
    mesh,
    show(pieces) {
      shown = pieces
      mesh.geometry.dispose()
      mesh.visible = !!pieces?.count
      if (!pieces?.count) return
      const geometry = new THREE.InstancedBufferGeometry()
      geometry.setAttribute('position', new THREE.Float32BufferAttribute([0, -1, 0, 1, -1, 0, 1, 1, 0, 0, 1, 0], 3))
      geometry.setIndex([0, 1, 2, 0, 2, 3])
      const ends = new THREE.InstancedInterleavedBuffer(pieces.ends, 6)
      geometry.setAttribute('from', new THREE.InterleavedBufferAttribute(ends, 3, 0))
      geometry.setAttribute('to', new THREE.InterleavedBufferAttribute(ends, 3, 3))
      geometry.setAttribute('times', new THREE.InstancedBufferAttribute(pieces.times, 2))
      geometry.setAttribute('rapid', new THREE.InstancedBufferAttribute(Float32Array.from(pieces.rapid), 1))
      geometry.setAttribute('value', new THREE.InstancedBufferAttribute(new Float32Array(pieces.count), 1))
      geometry.instanceCount = pieces.count
      mesh.geometry = geometry
    },
    tint(values, legend) {
      uniforms.tinted.value = !!values
      if (!values || !legend || !shown?.count) return
      uniforms.range.value.set(legend.from, legend.to)
      uniforms.scale.value?.dispose()
      uniforms.scale.value = scaleTexture(legend.scale)
      const numbers = Float32Array.from(shown.motion, motion => values[motion])
      const rapid = Float32Array.from(shown.rapid, (is, i) => (is || Number.isNaN(numbers[i]) ? 1 : 0))
      mesh.geometry.setAttribute(
        'value',
        new THREE.InstancedBufferAttribute(
          numbers.map(n => n || 0),
          1,
        ),
      )
      mesh.geometry.setAttribute('rapid', new THREE.InstancedBufferAttribute(rapid, 1))
    },
    time(now, trail, only) {
      uniforms.only.value = only
      uniforms.now.value = now
      uniforms.trail.value = Math.max(trail, 0.1)
    },
    theme(pencil, fresh, thread) {
      put(uniforms.pencil.value, pencil)
      put(uniforms.fresh.value, fresh)
      put(uniforms.thread.value, thread)
    },
    viewport(width, height, ratio, thick = 1.25) {
      uniforms.viewport.value.set(width, height)
      uniforms.thick.value = thick * ratio
    },
    dispose() {
      mesh.geometry.dispose()
      material.dispose()
      uniforms.scale.value?.dispose()
    },
  }
}
