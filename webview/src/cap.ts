import * as THREE from 'three'
import type { Section } from './section.ts'
import { common, materials } from './woodShader.ts'

/** The face of a cut through the piece, with a pencil line round it. */
export interface Cap {
  readonly object: THREE.Group
  /** `away`: 1 where the part beyond the plane is taken off, -1 where the part before it is. */
  show(section: Section | undefined): void
  away(side: 1 | -1): void
  dispose(): void
}

const vertex = /* glsl */ `
in float material;
out vec3 blankAt;
flat out int made;
void main() {
  blankAt = position;
  made = int(material + 0.5);
  gl_Position = projectionMatrix * modelViewMatrix * vec4(position, 1.0);
}
`

const fragment = /* glsl */ `
precision highp float;
precision highp int;
uniform vec3 sun;
uniform vec3 sky;
uniform vec3 out3;
uniform float sunlight;
in vec3 blankAt;
flat in int made;
out vec4 colour;
${common}
${materials}
void main() {
  float blur = 0.5 * (length(dFdx(blankAt)) + length(dFdy(blankAt)));
  float gloss;
  vec3 base = material(made, blankAt, out3, blur, gloss);
  float key = max(dot(out3, sun), 0.0);
  // A fresh cut is matt and pale, and stands well lit however it is turned.
  colour = vec4(shown(base * (0.25 + sky * 0.9 + 0.55 * vec3(1.0, 0.96, 0.9) * key * sunlight)), 1.0);
}
`

/** The cap, with nothing cut. `uniforms`: the piece's own, so that the figure goes on from its faces. */
export function newCap(uniforms: Record<string, THREE.IUniform>): Cap {
  const object = new THREE.Group()
  object.matrixAutoUpdate = false
  object.visible = false
  const out3 = { value: new THREE.Vector3(0, -1, 0) }
  const material = new THREE.ShaderMaterial({
    glslVersion: THREE.GLSL3,
    vertexShader: vertex,
    fragmentShader: fragment,
    uniforms: { ...uniforms, out3 },
    side: THREE.DoubleSide,
    polygonOffset: true,
    polygonOffsetFactor: -1,
    polygonOffsetUnits: -2,
  })
  const pencil = new THREE.LineBasicMaterial({ color: 0x2c2117, depthFunc: THREE.LessEqualDepth })
  const face = new THREE.Mesh(new THREE.BufferGeometry(), material)
  const line = new THREE.LineSegments(new THREE.BufferGeometry(), pencil)
  face.frustumCulled = line.frustumCulled = false
  line.renderOrder = 1
  object.add(face, line)
  let axis: Section['axis'] = 'y'
  return {
    object,
    show(section) {
      object.visible = !!section?.materials.length
      face.geometry.dispose()
      line.geometry.dispose()
      face.geometry = new THREE.BufferGeometry()
      line.geometry = new THREE.BufferGeometry()
      if (!section) return
      axis = section.axis
      const positions: number[] = []
      const made: number[] = []
      const edges: number[] = []
      const point = (s: number, z: number) => (axis === 'x' ? [section.at, s, z] : [s, section.at, z])
      const { strips, materials: of } = section
      for (let k = 0; k < of.length; k++) {
        const [s0, s1, lo0, hi0, lo1, hi1] = strips.subarray(6 * k, 6 * k + 6)
        const [a, b, c, d] = [point(s0, lo0), point(s1, lo1), point(s1, hi1), point(s0, hi0)]
        positions.push(...a, ...b, ...c, ...a, ...c, ...d)
        for (let n = 0; n < 6; n++) made.push(of[k])
        edges.push(...a, ...b, ...d, ...c)
        if (!goesOn(section, k, -1)) edges.push(...a, ...d)
        if (!goesOn(section, k, 1)) edges.push(...b, ...c)
      }
      face.geometry.setAttribute('position', new THREE.Float32BufferAttribute(positions, 3))
      face.geometry.setAttribute('material', new THREE.Float32BufferAttribute(made, 1))
      line.geometry.setAttribute('position', new THREE.Float32BufferAttribute(edges, 3))
    },
    away(side) {
      out3.value.set(axis === 'x' ? side : 0, axis === 'y' ? side : 0, 0)
      // The line stands before the face, or it would flicker in it.
      line.position.copy(out3.value).multiplyScalar(0.25)
    },
    dispose() {
      face.geometry.dispose()
      line.geometry.dispose()
      material.dispose()
      pencil.dispose()
    },
  }
}

/** Strips looked at to either side for the one that goes on from strip `k`: a column holds no more solids than this. */
const BESIDE = 6

/** Whether the wood of a strip goes on beyond its end, at the same height. */
function goesOn({ strips, materials: of }: Section, k: number, way: 1 | -1): boolean {
  const [s0, s1, lo0, hi0, lo1, hi1] = strips.subarray(6 * k, 6 * k + 6)
  const [s, lo, hi] = way > 0 ? [s1, lo1, hi1] : [s0, lo0, hi0]
  for (let n = 1; n <= BESIDE; n++) {
    const other = k + way * n
    if (other < 0 || other >= of.length) return false
    const [t0, t1, l0, h0, l1, h1] = strips.subarray(6 * other, 6 * other + 6)
    const [t, l, h] = way > 0 ? [t0, l0, h0] : [t1, l1, h1]
    if (Math.abs(t - s) < 1e-4 && of[other] === of[k] && Math.abs(l - lo) < 0.01 && Math.abs(h - hi) < 0.01) return true
  }
  return false
}
