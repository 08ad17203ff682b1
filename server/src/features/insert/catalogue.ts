import type { Operation } from './operation.ts'
import { bowlOperation } from './operations/bowlCavity.ts'
import { boreOperation } from './operations/helicalBore.ts'
import { rasterOperation } from './operations/levellingRaster.ts'
import { outlineOperation } from './operations/outlineWithTabs.ts'
import { rampOperation } from './operations/rampedSlot.ts'
import { rectangularPocketOperation } from './operations/rectangularPocket.ts'
import { roundPocketOperation } from './operations/roundPocket.ts'
import { wallPassOperation } from './operations/wallPass.ts'

/** Everything that can be inserted, in the order in which it is offered. */
export const OPERATIONS: readonly Operation[] = [
  boreOperation,
  rampOperation,
  rectangularPocketOperation,
  roundPocketOperation,
  outlineOperation,
  rasterOperation,
  bowlOperation,
  wallPassOperation,
]
