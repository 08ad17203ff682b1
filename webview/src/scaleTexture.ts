import * as THREE from 'three'

/** A colour (sRGB, 0..1 each) for every share of a scale. */
export type Scale = (share: number) => readonly [number, number, number]

/** A row of colours, from one end of a scale to the other. */
export function scaleTexture(colourAt: Scale): THREE.DataTexture {
  const bytes = new Uint8Array(256 * 4)
  for (let i = 0; i < 256; i++) {
    bytes.set([...colourAt(i / 255).map(c => Math.round(c * 255)), 255], i * 4)
  }
  const texture = new THREE.DataTexture(bytes, 256, 1, THREE.RGBAFormat, THREE.UnsignedByteType)
  texture.magFilter = texture.minFilter = THREE.LinearFilter
  texture.needsUpdate = true
  return texture
}
