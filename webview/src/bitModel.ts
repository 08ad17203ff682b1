import * as THREE from 'three'
import type { Bit } from '../../server/src/stock/bit.ts'
import { heightAt, profileOf } from '../../server/src/stock/profile.ts'

/** The bit with shank and collet, tip at the origin, axis up, mm. */
export interface BitModel {
  readonly object: THREE.Group
  show(bit: Bit | undefined): void
  dispose(): void
}

const vertex = /* glsl */ `
out vec3 n;
out vec3 p;
out vec3 v;
void main() {
  n = normalize(normalMatrix * normal);
  p = position;
  vec4 view = modelViewMatrix * vec4(position, 1.0);
  v = -view.xyz;
  gl_Position = projectionMatrix * view;
}
`

const fragment = /* glsl */ `
precision highp float;
uniform vec3 metal;
uniform float flutes;
uniform float twist;
uniform float rim;
in vec3 n;
in vec3 p;
in vec3 v;
out vec4 colour;
void main() {
  vec3 normal = normalize(n);
  vec3 view = normalize(v);
  if (dot(normal, view) < 0.0) normal = -normal;
  float edge = 0.0;
  if (flutes > 0.0) {
    // The ground flutes, as light and dark bands that climb round the bit.
    float turn = atan(p.y, p.x) / 6.2831853 * flutes + p.z * twist;
    float k = fract(turn);
    edge = smoothstep(0.0, 0.08, k) * (1.0 - smoothstep(0.08, 0.2, k));
    normal = normalize(normal + vec3(0.9 * (smoothstep(0.2, 0.9, k) - 0.5), 0.0, 0.0));
  }
  // Steel in a shop: a window to the left, a dim wall to the right, the bench below.
  float window = smoothstep(0.2, 0.75, dot(normal, normalize(vec3(-0.6, 0.5, 0.6))));
  float side = smoothstep(0.55, 1.0, dot(normal, normalize(vec3(0.9, 0.1, 0.3))));
  float rimLight = pow(1.0 - max(dot(normal, view), 0.0), 3.0);
  vec3 c = metal * (0.28 + 0.75 * window + 0.3 * side + 0.25 * normal.y) + vec3(0.3) * rimLight * 0.5 + vec3(0.45) * edge * window;
  colour = vec4(pow(max(c, 0.0), vec3(1.0 / 2.2)), 1.0);
}
`

function metal(colour: readonly [number, number, number], flutes: number, twist: number, rim: number) {
  return new THREE.ShaderMaterial({
    glslVersion: THREE.GLSL3,
    vertexShader: vertex,
    fragmentShader: fragment,
    side: THREE.DoubleSide,
    uniforms: {
      metal: { value: new THREE.Vector3(...colour) },
      flutes: { value: flutes },
      twist: { value: twist },
      rim: { value: rim },
    },
  })
}

/** A solid of revolution about Z through points of (radius, height). */
function turned(points: readonly (readonly [number, number])[], segments = 40): THREE.BufferGeometry {
  const geometry = new THREE.LatheGeometry(
    points.map(([r, z]) => new THREE.Vector2(r, z)),
    segments,
  )
  geometry.rotateX(Math.PI / 2)
  return geometry
}

/** A model of nothing until a bit is shown. */
export function newBitModel(): BitModel {
  const object = new THREE.Group()
  let shown: Bit | undefined

  function clear() {
    for (const mesh of object.children as THREE.Mesh[]) {
      mesh.geometry.dispose()
      ;(mesh.material as THREE.Material).dispose()
    }
    object.clear()
  }

  return {
    object,
    show(bit) {
      object.visible = !!bit
      if (bit === shown || !bit) return
      shown = bit
      clear()
      const profile = profileOf(bit)
      if (!profile) return
      const cutting: [number, number][] = [[0, 0]]
      for (let i = 0; i <= 24; i++) {
        const r = profile.flat + ((profile.rim - profile.flat) * i) / 24
        cutting.push([r, heightAt(profile, Math.min(r, profile.rim))])
      }
      const top = Math.max(bit.cuttingLength, profile.top)
      cutting.push([profile.rim, top])
      const twist = bit.spiral === 'straight' ? 0 : (bit.spiral === 'down' ? -1 : 1) / (Math.PI * bit.diameter)
      const shank = bit.shankDiameter / 2
      const collet = bit.colletDiameter / 2
      const out = Math.max(bit.stickout, top)
      const add = (points: readonly (readonly [number, number])[], material: THREE.Material, segments?: number) =>
        object.add(new THREE.Mesh(turned(points, segments), material))
      add(cutting, metal([0.42, 0.43, 0.46], Math.max(1, bit.flutes), twist, profile.rim))
      const neck: [number, number][] = [
        [profile.rim, top],
        [shank, top + Math.min(2, Math.max(0, out - top))],
        [shank, out + 1],
      ]
      add(neck, metal([0.55, 0.56, 0.58], 0, 0, shank))
      add(
        [
          [shank, out],
          [collet * 0.72, out],
          [collet * 0.86, out + 3],
          [collet * 0.86, out + 5],
        ],
        metal([0.5, 0.4, 0.24], 0, 0, collet),
      )
      add(
        [
          [collet * 0.8, out + 5],
          [collet, out + 6],
          [collet, out + 15],
          [collet * 0.9, out + 16],
        ],
        metal([0.34, 0.3, 0.25], 0, 0, collet),
        6,
      )
      add(
        [
          [collet * 0.78, out + 16],
          [collet * 0.78, out + 30],
          [0, out + 30],
        ],
        metal([0.3, 0.3, 0.32], 0, 0, collet),
      )
    },
    dispose: clear,
  }
}
