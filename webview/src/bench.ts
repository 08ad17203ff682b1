import * as THREE from 'three'
import type { BlankSize } from '../../server/src/stock/lie.ts'
import type { Ground } from './light.ts'
import { common } from './woodShader.ts'

/** The table that the piece lies on: planks, quiet, fading into the page, with the piece's own soft shadow. */
export interface Bench {
  readonly mesh: THREE.Mesh
  /** `page`: the colour of the page, which the table fades into; `plain`: no planks (high contrast). */
  theme(page: THREE.Color, dark: boolean, plain: boolean): void
  /** The piece's own shade, and the size of the blank that it was made for. */
  shade(ground: Ground, size: BlankSize, height: number): void
  /** From the bench to the blank's own X and Y; `strength` is less while the piece is in the air. */
  under(toBlank: THREE.Matrix4, strength: number, width: number, height: number): void
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
uniform sampler2D ground;
uniform mat4 toBlank;
uniform vec4 frame;
uniform vec4 cutPlane;
uniform float strength;
uniform float height;
uniform float reach;
uniform vec2 viewport;
uniform vec3 sun;
in vec2 at;
out vec4 colour;
${common}
vec2 shadeAt(vec2 p) {
  vec2 at = (toBlank * vec4(p, 0.0, 1.0)).xy;
  // What is cut away throws no shade.
  if (dot(cutPlane.xy, at) > cutPlane.w) return vec2(0.0);
  vec2 q = (at - frame.xy) / frame.zw;
  return texture(ground, q).rg;
}
void main() {
  float blur = length(fwidth(at)) * 0.5;
  float board = floor(at.y / 118.0 + 0.37);
  float shade = 0.05 * (hash1(board + 5.0) - 0.5);
  float streak = noise(vec3(at.x * 0.006 + board * 31.0, at.y * 0.09, board)) - 0.5;
  float fine = noise(vec3(at.x * 0.02, at.y * 0.7, board)) - 0.5;
  float gap = abs(fract(at.y / 118.0 + 0.37) - 0.5) * 118.0;
  float joint = smoothstep(59.0 - 0.7 - blur, 59.0, gap) * 0.22 * clamp(1.4 / (1.0 + blur), 0.0, 1.0);
  vec3 c = plank * (1.0 + 0.7 * shade + 0.05 * streak + 0.05 * fine * (1.0 - smoothstep(0.6, 2.0, blur)));
  c *= 1.0 - joint;
  // Contact: dark right under the edge; then the soft shade, thrown away from the window.
  float contact = 0.5 * shadeAt(at).r;
  float fallen = 0.62 * shadeAt(at + sun.xy / sun.z * height * 0.55).g;
  float shaded = strength * (max(contact, fallen) + 0.35 * min(contact, fallen));
  c *= 1.0 - shaded;
  // Towards the edges of the picture the bench gives way to the page.
  vec2 v = gl_FragCoord.xy / viewport;
  vec2 rim = smoothstep(vec2(0.0), vec2(0.16, 0.13), v) * smoothstep(vec2(0.0), vec2(0.16, 0.2), 1.0 - v);
  float away = 1.0 - rim.x * rim.y * (1.0 - smoothstep(reach * 0.7, reach * 1.4, length(at)));
  c = mix(c, page, max(away, plain * (1.0 - 0.7 * shaded)));
  colour = vec4(c, 1.0);
}
`

/** The table; colours here are as shown (sRGB): it is a backdrop, and is not lit again. */
export function newBench(shared: Record<'sun' | 'grain' | 'cutPlane', THREE.IUniform>): Bench {
  const uniforms = {
    page: { value: new THREE.Vector3() },
    plank: { value: new THREE.Vector3() },
    plain: { value: 0 },
    ground: { value: null as THREE.DataTexture | null },
    toBlank: { value: new THREE.Matrix4() },
    frame: { value: new THREE.Vector4(0, 0, 1, 1) },
    strength: { value: 1 },
    height: { value: 20 },
    viewport: { value: new THREE.Vector2(1, 1) },
    reach: { value: 300 },
    ...shared,
  }
  const material = new THREE.ShaderMaterial({
    glslVersion: THREE.GLSL3,
    vertexShader: vertex,
    fragmentShader: fragment,
    uniforms,
  })
  const mesh = new THREE.Mesh(new THREE.PlaneGeometry(1, 1), material)
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
    shade(ground, size, height) {
      uniforms.ground.value?.dispose()
      const texture = new THREE.DataTexture(ground.bytes, ground.width, ground.height, THREE.RGBAFormat)
      texture.magFilter = texture.minFilter = THREE.LinearFilter
      texture.needsUpdate = true
      uniforms.ground.value = texture
      const { place, margin } = ground
      uniforms.frame.value.set(-margin, -margin, ground.width * place, ground.height * place)
      uniforms.height.value = Math.max(height, 1)
      const reach = Math.hypot(size.width, size.depth) * 1.25
      if (reach === uniforms.reach.value) return
      uniforms.reach.value = reach
      mesh.geometry.dispose()
      mesh.geometry = new THREE.PlaneGeometry(reach * 6, reach * 6)
    },
    under(toBlank, strength, width, height) {
      uniforms.toBlank.value.copy(toBlank)
      uniforms.strength.value = strength
      uniforms.viewport.value.set(width, height)
    },
    dispose() {
      mesh.geometry.dispose()
      material.dispose()
      uniforms.ground.value?.dispose()
    },
  }
}
