import * as THREE from 'three'

const SIDE = 32

/** Noise as a solid that repeats every 32 units: the same on every machine, for the numbers are made here. */
export function grainTexture(): THREE.Data3DTexture {
  const bytes = new Uint8Array(SIDE ** 3)
  // A linear congruential generator with the constants of Numerical Recipes (from memory); only its look matters.
  let state = 20240607
  for (let i = 0; i < bytes.length; i++) {
    state = (Math.imul(state, 1664525) + 1013904223) >>> 0
    bytes[i] = state >>> 24
  }
  const texture = new THREE.Data3DTexture(bytes, SIDE, SIDE, SIDE)
  texture.format = THREE.RedFormat
  texture.magFilter = texture.minFilter = THREE.LinearFilter
  texture.wrapS = texture.wrapT = texture.wrapR = THREE.RepeatWrapping
  texture.needsUpdate = true
  return texture
}
