import * as THREE from 'three'
import type { BlankSize, Lie } from '../../server/src/stock/lie.ts'
import type { Orbit } from './orbit.ts'

/** Degrees from the upper to the lower edge of the picture. */
export const FIELD = 26

/** What is looked at: the blank, how it lies, and the lowest and highest of what is solid. */
export interface Subject {
  readonly size: BlankSize
  readonly lie: Lie
  readonly solid: readonly [number, number]
}

/** Puts the eye where the orbit says, at the distance from which the piece fills the picture. */
export function aim(camera: THREE.PerspectiveCamera, orbit: Orbit, { size, lie, solid }: Subject): void {
  const { azimuth, polar, zoom } = orbit
  const target = new THREE.Vector3(0, 0, ((solid[1] - solid[0]) / 2) * 0.8)
  const back = new THREE.Vector3(
    Math.sin(polar) * Math.sin(azimuth),
    -Math.sin(polar) * Math.cos(azimuth),
    Math.cos(polar),
  )
  // Straight from above, "up" in the picture is away.
  const right = new THREE.Vector3(Math.cos(azimuth), Math.sin(azimuth), 0)
  const up = new THREE.Vector3().crossVectors(back, right)
  const tanY = Math.tan((FIELD * Math.PI) / 360)
  const tanX = tanY * camera.aspect
  let distance = 1
  for (const sx of [-0.5, 0.5]) {
    for (const sy of [-0.5, 0.5]) {
      for (const sz of [0, 1]) {
        const p = new THREE.Vector3(sx * size.width, sy * size.depth, sz * size.thickness)
        if (lie.spin === 90 || lie.spin === 270) [p.x, p.y] = [sy * size.depth, sx * size.width]
        p.sub(target)
        const near = p.dot(back)
        distance = Math.max(
          distance,
          near + Math.abs(p.dot(right)) / (tanX * 0.9),
          near + Math.abs(p.dot(up)) / (tanY * 0.92),
        )
      }
    }
  }
  const span = 2 * tanY * distance
  target.addScaledVector(right, -orbit.panX * span).addScaledVector(up, -orbit.panY * span)
  camera.position.copy(target).addScaledVector(back, distance * zoom)
  camera.quaternion.setFromRotationMatrix(new THREE.Matrix4().makeBasis(right, up, back))
  camera.near = Math.max(1, distance * zoom - 1.2 * Math.hypot(size.width, size.depth))
  camera.far = distance * zoom + 6 * Math.hypot(size.width, size.depth)
  camera.updateProjectionMatrix()
  camera.updateMatrixWorld()
}
