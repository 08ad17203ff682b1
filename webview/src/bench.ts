import * as THREE from 'three'
import { common } from './pieceShader.ts'

/** The table that the piece lies on: planks, quiet, fading into the page, with the piece's own soft shadow. */
export interface Bench {
  readonly mesh: THREE.Mesh
  /** `page`: the colour of the page, which the table fades into; `plain`: no planks (high contrast). */
  theme(page: THREE.Color, dark: boolean, plain: boolean): void
  /** The footprint that casts the shadow, mm, and its height; `round` for a round one. */
  footprint(width: number, depth: number, height: number, round: boolean): void
  dispose(): void
}

const vertex = /* glsl */ `
out vec2 at;
void main() {
  at = position.xy;
  gl_Position = projectionMatrix * modelViewMatrix * vec4(position, 1.0);
}
`

const fragment = /* glsl */ `
precision highp float;
precision highp int;
uniform vec3 page;
uniform vec3 plank;
uniform float plain;
uniform vec4 print;
uniform float reach;
uniform vec3 sun;
in vec2 at;
out vec4 colour;
${common}
float outside(vec2 p) {
  if (print.w > 0.5) return length(p) - print.x;
  vec2 q = abs(p) - print.xy;
  return length(max(q, 0.0)) + min(max(q.x, q.y), 0.0);
}
void main() {
  float blur = length(fwidth(at)) * 0.5;
  float board = floor(at.y / 118.0 + 0.37);
  float shade = 0.05 * (hash1(board + 5.0) - 0.5);
  float streak = noise(vec3(at.x * 0.006 + board * 31.0, at.y * 0.09, board)) - 0.5;
  float fine = noise(vec3(at.x * 0.02, at.y * 0.7, board)) - 0.5;
  float gap = abs(fract(at.y / 118.0 + 0.37) - 0.5) * 118.0;
  float joint = smoothstep(59.0 - 0.7 - blur, 59.0, gap) * 0.22 * clamp(1.4 / (1.0 + blur), 0.0, 1.0);
  vec3 c = plank * (1.0 + shade + 0.09 * streak + 0.05 * fine * (1.0 - smoothstep(0.6, 2.0, blur)));
  c *= 1.0 - joint;
  float height = print.z;
  // Contact: dark right under the edge; then the soft shadow, thrown away from the window.
  float d = outside(at);
  float contact = 0.42 * exp(-max(d, 0.0) / (0.18 * height + 1.5));
  vec2 thrown = at + sun.xy / sun.z * height * 0.5;
  float fallen = 0.4 * (1.0 - smoothstep(-height * 0.55, height * 0.75, outside(thrown)));
  c *= 1.0 - max(contact, fallen) - 0.3 * min(contact, fallen);
  float away = smoothstep(reach * 0.55, reach * 1.25, length(at * vec2(0.9, 1.15)));
  c = mix(c, page, max(away, plain * (1.0 - 0.6 * contact)));
  colour = vec4(c, 1.0);
}
`

/** The table; colours here are as shown (sRGB): it is a backdrop, and is not lit again. */
export function newBench(sun: THREE.IUniform, grain: THREE.IUniform): Bench {
  const uniforms = {
    page: { value: new THREE.Vector3() },
    plank: { value: new THREE.Vector3() },
    plain: { value: 0 },
    print: { value: new THREE.Vector4(1, 1, 1, 0) },
    reach: { value: 300 },
    sun,
    grain,
  }
  const material = new THREE.ShaderMaterial({
    glslVersion: THREE.GLSL3,
    vertexShader: vertex,
    fragmentShader: fragment,
    uniforms,
  })
  const geometry = new THREE.PlaneGeometry(1, 1)
  const mesh = new THREE.Mesh(geometry, material)
  mesh.frustumCulled = false
  return {
    mesh,
    theme(page, dark, plain) {
      uniforms.page.value.set(page.r, page.g, page.b)
      // The planks keep the page's own lightness, so that the piece is what stands out.
      const wood = dark ? new THREE.Vector3(0.25, 0.225, 0.205) : new THREE.Vector3(0.79, 0.762, 0.72)
      uniforms.plank.value.copy(wood).lerp(uniforms.page.value, 0.22)
      uniforms.plain.value = plain ? 1 : 0
    },
    footprint(width, depth, height, round) {
      uniforms.print.value.set(width / 2, depth / 2, Math.max(height, 1), round ? 1 : 0)
      const reach = Math.hypot(width, depth) * 1.25
      uniforms.reach.value = reach
      geometry.dispose()
      mesh.geometry = new THREE.PlaneGeometry(reach * 6, reach * 6)
    },
    dispose() {
      mesh.geometry.dispose()
      material.dispose()
    },
  }
}
