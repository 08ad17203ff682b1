import * as THREE from 'three'

/** A box that no bit may enter, frame of the stock as it lies, mm. */
export interface Clamp {
  readonly box: readonly [readonly [number, number], readonly [number, number]]
  readonly top: number
}

/** What holds the blank down, drawn as blocks that stand on the table. */
export interface Clamps {
  readonly object: THREE.Group
  show(clamps: readonly Clamp[]): void
  dispose(): void
}

const vertex = /* glsl */ `
out vec3 n;
void main() {
  n = normalize(normalMatrix * normal);
  gl_Position = projectionMatrix * modelViewMatrix * vec4(position, 1.0);
}
`
const fragment = /* glsl */ `
precision highp float;
in vec3 n;
out vec4 colour;
void main() {
  float light = 0.5 + 0.5 * max(dot(normalize(n), normalize(vec3(-0.4, 0.7, 0.6))), 0.0);
  colour = vec4(vec3(0.62, 0.3, 0.2) * light, 1.0);
}
`

export function newClamps(): Clamps {
  const object = new THREE.Group()
  const material = new THREE.ShaderMaterial({
    glslVersion: THREE.GLSL3,
    vertexShader: vertex,
    fragmentShader: fragment,
  })
  const pencil = new THREE.LineBasicMaterial({ color: 0x2c1a12 })
  const clear = () => {
    for (const child of object.children) (child as THREE.Mesh | THREE.LineSegments).geometry.dispose()
    object.clear()
  }
  return {
    object,
    show(clamps) {
      clear()
      for (const { box, top } of clamps) {
        const [[x0, y0], [x1, y1]] = box
        if (!(x1 > x0 && y1 > y0 && top > 0)) continue
        const geometry = new THREE.BoxGeometry(x1 - x0, y1 - y0, top)
        geometry.translate((x0 + x1) / 2, (y0 + y1) / 2, top / 2)
        object.add(new THREE.Mesh(geometry, material))
        object.add(new THREE.LineSegments(new THREE.EdgesGeometry(geometry), pencil))
      }
    },
    dispose() {
      clear()
      material.dispose()
      pencil.dispose()
    },
  }
}
