import * as THREE from 'three'
import type { PreviewJob } from '../../server/src/features/preview/protocol.ts'
import { depthColour } from './depthScale.ts'
import type { Edges } from './edges.ts'
import { type Faces, TILE } from './faces.ts'
import type { Light } from './light.ts'
import { pieceFragment, pieceVertex } from './pieceShader.ts'
import type { Refined } from './refiner.ts'
import { type Scale, scaleTexture } from './scaleTexture.ts'
import type { Seam } from './seam.ts'
import { GLUE, MATERIALS } from './woodShader.ts'
import { GLUE_LOOK, lookOf } from './woods.ts'

type Blank = PreviewJob['blanks'][number]

/** The carved blank as it is drawn, in its own frame (mm). */
export interface Piece {
  readonly object: THREE.Object3D
  readonly uniforms: Record<string, THREE.IUniform>
  /** Takes what the worker made; walls are drawn in cells until they are refined. */
  show(faces: Faces, light: Light, cell: number): void
  /** Takes where the walls of what is shown stand. */
  refine(refined: Refined): void
  /** Which materials: the blank's wood, then what is set in, in order. */
  dress(blank: Blank, inserts: readonly { readonly material: string; readonly resin: boolean }[]): void
  /** What is drawn of its surface. */
  surface(surface: Surface): void
  /** Draws the face that is looked at: one of the two is always hidden. */
  face(upper: boolean): void
  dispose(): void
}

/** The wood itself, or a number for each place of it in the colours of a scale. */
export type Surface =
  | { readonly of: 'wood' }
  | { readonly of: 'depth'; readonly scale: Scale; readonly from: number; readonly to: number }
  | {
      readonly of: 'values'
      readonly scale: Scale
      readonly from: number
      readonly to: number
      readonly values: Float32Array
    }

/** Corners and triangles of a tile of n x n squares, 0 to TILE cells; grown all round by `over` cells. */
function tileShape(n: number, over: number) {
  const positions: number[] = []
  const index: number[] = []
  const along = (i: number) => (i * TILE) / n + (i === 0 ? -over : i === n ? over : 0)
  for (let j = 0; j <= n; j++) for (let i = 0; i <= n; i++) positions.push(along(i), along(j), 0)
  for (let j = 0; j < n; j++) {
    for (let i = 0; i < n; i++) {
      const a = j * (n + 1) + i
      index.push(a, a + 1, a + n + 2, a, a + n + 2, a + n + 1)
    }
  }
  return {
    position: new THREE.Float32BufferAttribute(positions, 3),
    index: new THREE.Uint16BufferAttribute(index, 1),
  }
}

/** The tiles of a face in one drawing. A new geometry each time: three remembers how many a geometry once held. */
function tilesAt(shape: ReturnType<typeof tileShape>, list: Int16Array): THREE.InstancedBufferGeometry {
  const geometry = new THREE.InstancedBufferGeometry()
  geometry.setAttribute('position', shape.position)
  geometry.setIndex(shape.index)
  geometry.setAttribute('tile', new THREE.InstancedBufferAttribute(Float32Array.from(list), 2))
  geometry.instanceCount = list.length / 2
  return geometry
}

/** sRGB as CSS writes it, made linear. */
function linearColour(css: string): THREE.Vector3 {
  const value = Number.parseInt(css.slice(1), 16)
  const [r, g, b] = [value >> 16, (value >> 8) & 255, value & 255].map(byte => (byte / 255) ** 2.2)
  return new THREE.Vector3(r, g, b)
}

/** A float texture without filtering: heights must come back as they went in. */
function heightTexture(columns: Float32Array, nx: number, ny: number): THREE.DataTexture {
  const texture = new THREE.DataTexture(columns, nx, ny, THREE.RGBAFormat, THREE.FloatType)
  texture.needsUpdate = true
  return texture
}

function edgeTexture(edges: Edges, nx: number, ny: number): THREE.DataTexture {
  const texture = new THREE.DataTexture(edges, nx, ny, THREE.RGBAIntegerFormat, THREE.ShortType)
  texture.internalFormat = 'RGBA16I'
  texture.needsUpdate = true
  return texture
}

function seamTexture(seam: Seam, nx: number, ny: number): THREE.DataTexture {
  const texture = new THREE.DataTexture(seam, nx, ny, THREE.RedFormat, THREE.UnsignedByteType)
  // Rows of one byte a cell need not fill whole words.
  texture.unpackAlignment = 1
  texture.magFilter = texture.minFilter = THREE.LinearFilter
  texture.needsUpdate = true
  return texture
}

function lightTexture(light: Light): THREE.DataTexture {
  const texture = new THREE.DataTexture(
    light.bytes,
    light.width,
    light.height,
    THREE.RGBAFormat,
    THREE.UnsignedByteType,
  )
  texture.magFilter = texture.minFilter = THREE.LinearFilter
  texture.needsUpdate = true
  return texture
}

/** The piece, with nothing to show yet. */
export function newPiece(shared: Record<string, THREE.IUniform>): Piece {
  const vectors = () => Array.from({ length: MATERIALS }, () => new THREE.Vector3(0.5, 0.4, 0.3))
  // Some drivers refuse to draw where a whole-number sampler has no texture of its kind.
  const noEdges = edgeTexture(new Int16Array(4), 1, 1)
  const uniforms: Record<string, THREE.IUniform> = {
    ...shared,
    columns: { value: null },
    light: { value: null },
    scale: { value: scaleTexture(depthColour) },
    size: { value: new THREE.Vector2(1, 1) },
    cell: { value: 1 },
    upper: { value: true },
    extent: { value: new THREE.Vector3(1, 1, 1) },
    low: { value: 0 },
    high: { value: 1 },
    grainAlongY: { value: false },
    early: { value: vectors() },
    late: { value: vectors() },
    figure: { value: Array.from({ length: MATERIALS }, () => new THREE.Vector4(3, 0, 0, 0)) },
    nature: { value: Array.from({ length: MATERIALS }, () => new THREE.Vector2(0.5, 0)) },
    crisp: { value: false },
    edges: { value: noEdges },
    seam: { value: null },
    layer: { value: 0 },
    range: { value: new THREE.Vector2(0, 10) },
    values: { value: null },
  }
  const material = new THREE.ShaderMaterial({
    glslVersion: THREE.GLSL3,
    vertexShader: pieceVertex,
    fragmentShader: pieceFragment,
    uniforms,
    side: THREE.DoubleSide,
  })
  // An even tile is one square beside many small ones; grown by a hair, it leaves no pinholes between them.
  const shapes = [tileShape(1, 0.25), tileShape(TILE, 0)]
  const meshes = shapes.map(() => {
    const mesh = new THREE.Mesh(new THREE.InstancedBufferGeometry(), material)
    // Its extent is in a texture, where three cannot see it.
    mesh.frustumCulled = false
    mesh.visible = false
    return mesh
  })
  const object = new THREE.Group()
  object.add(...meshes)
  object.visible = false
  object.matrixAutoUpdate = false
  let faces: Faces | undefined
  let scale: Scale = depthColour
  let upper: boolean | undefined
  let refined: { readonly upper: THREE.DataTexture; readonly lower: THREE.DataTexture } | undefined

  function forget() {
    for (const each of [refined?.upper, refined?.lower, uniforms.seam.value as THREE.Texture | null]) each?.dispose()
    refined = undefined
    uniforms.seam.value = null
    uniforms.edges.value = noEdges
    uniforms.crisp.value = false
  }

  function place() {
    if (!faces) return
    const lists = upper ? [faces.upperEven, faces.upperRough] : [faces.lowerEven, faces.lowerRough]
    lists.forEach((list, i) => {
      meshes[i].geometry.dispose()
      meshes[i].geometry = tilesAt(shapes[i], list)
      meshes[i].visible = list.length > 0
    })
  }

  return {
    object,
    uniforms,
    show(next, light, cell) {
      forget()
      const texture = uniforms.columns.value as THREE.DataTexture | null
      if (texture && texture.image.width === next.nx && texture.image.height === next.ny) {
        texture.image.data = next.columns
        texture.needsUpdate = true
      } else {
        texture?.dispose()
        uniforms.columns.value = heightTexture(next.columns, next.nx, next.ny)
      }
      ;(uniforms.light.value as THREE.DataTexture | null)?.dispose()
      uniforms.light.value = lightTexture(light)
      ;(uniforms.size.value as THREE.Vector2).set(next.nx, next.ny)
      uniforms.cell.value = cell
      uniforms.low.value = next.lowest
      uniforms.high.value = next.highest
      faces = next
      object.visible = next.highest > next.lowest
      place()
    },
    refine(next) {
      if (!faces) return
      forget()
      refined = {
        upper: edgeTexture(next.upper, faces.nx, faces.ny),
        lower: edgeTexture(next.lower, faces.nx, faces.ny),
      }
      const seam = seamTexture(next.seam, faces.nx, faces.ny)
      uniforms.seam.value = seam
      uniforms.edges.value = upper ? refined.upper : refined.lower
      uniforms.crisp.value = true
    },
    dress(blank, inserts) {
      const looks = [lookOf(blank.material), ...inserts.map(each => lookOf(each.material, each.resin))]
      while (looks.length < MATERIALS) looks.push(GLUE_LOOK)
      looks[GLUE] = GLUE_LOOK
      looks.slice(0, MATERIALS).forEach((look, i) => {
        uniforms.early.value[i].copy(linearColour(look.early))
        uniforms.late.value[i].copy(linearColour(look.late))
        uniforms.figure.value[i].set(look.ring, look.pores, look.rays, look.curl)
        uniforms.nature.value[i].set(look.contrast, look.resin ? 1 : 0)
      })
      uniforms.extent.value.set(blank.width, blank.depth, blank.thickness)
      uniforms.grainAlongY.value = blank.grain === 'y'
    },
    surface(next) {
      uniforms.layer.value = next.of === 'wood' ? 0 : next.of === 'depth' ? 1 : 2
      ;(uniforms.values.value as THREE.DataTexture | null)?.dispose()
      uniforms.values.value = null
      if (next.of === 'wood') return
      uniforms.range.value.set(next.from, next.to)
      if (scale !== next.scale) {
        scale = next.scale
        ;(uniforms.scale.value as THREE.DataTexture).dispose()
        uniforms.scale.value = scaleTexture(scale)
      }
      if (next.of !== 'values' || !faces) return
      const texture = new THREE.DataTexture(next.values, faces.nx, faces.ny, THREE.RedFormat, THREE.FloatType)
      texture.needsUpdate = true
      uniforms.values.value = texture
    },
    face(next) {
      if (next === upper) return
      upper = next
      uniforms.upper.value = next
      if (refined) uniforms.edges.value = next ? refined.upper : refined.lower
      place()
    },
    dispose() {
      forget()
      noEdges.dispose()
      for (const mesh of meshes) mesh.geometry.dispose()
      material.dispose()
      for (const each of [uniforms.columns, uniforms.light, uniforms.scale, uniforms.values])
        (each.value as THREE.Texture | null)?.dispose()
    },
  }
}
