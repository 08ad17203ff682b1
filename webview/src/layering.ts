import * as THREE from 'three'

/** Lays a picture over what is on the canvas, as thickly as asked. */
export interface Layering {
  lay(renderer: THREE.WebGLRenderer, share: number): void
  dispose(): void
}

export function newLayering(texture: THREE.Texture): Layering {
  const material = new THREE.ShaderMaterial({
    glslVersion: THREE.GLSL3,
    vertexShader:
      'out vec2 at; void main() { at = position.xy * 0.5 + 0.5; gl_Position = vec4(position.xy, 0.0, 1.0); }',
    fragmentShader:
      'precision highp float; uniform sampler2D picture; uniform float share; in vec2 at; out vec4 colour; void main() { colour = vec4(texture(picture, at).rgb, share); }',
    uniforms: { picture: { value: texture }, share: { value: 1 } },
    transparent: true,
    depthTest: false,
    depthWrite: false,
  })
  const geometry = new THREE.BufferGeometry()
  geometry.setAttribute('position', new THREE.Float32BufferAttribute([-1, -1, 0, 3, -1, 0, -1, 3, 0], 3))
  const mesh = new THREE.Mesh(geometry, material)
  mesh.frustumCulled = false
  const scene = new THREE.Scene().add(mesh)
  const camera = new THREE.Camera()
  return {
    lay(renderer, share) {
      material.uniforms.share.value = share
      renderer.render(scene, camera)
    },
    dispose() {
      geometry.dispose()
      material.dispose()
    },
  }
}

/** Points that fill an interval evenly, however many are taken. */
export function halton(index: number, base: number): number {
  let result = 0
  let part = 1 / base
  for (let i = index; i > 0; i = Math.floor(i / base)) {
    result += (i % base) * part
    part /= base
  }
  return result
}
