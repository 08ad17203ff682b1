import type { PreviewJob } from '../../server/src/features/preview/protocol.ts'
import type { Moment } from './clock.ts'
import type { Faces } from './faces.ts'
import type { Light, Suns } from './light.ts'
import type { Refined } from './refiner.ts'

/** From the page to its worker. */
export type ToWorker =
  | { readonly type: 'build'; readonly job: PreviewJob; readonly suns: Suns }
  | { readonly type: 'show'; readonly moment: Moment; readonly suns: Suns }
  /** Make what was shown last crisp. */
  | { readonly type: 'refine' }

/** From the worker to the page. `refined` belongs to the picture shown last. */
export type FromWorker =
  | { readonly type: 'progress'; readonly share: number; readonly setup: number }
  | { readonly type: 'built'; readonly ms: number }
  | {
      readonly type: 'shown'
      readonly moment: Moment
      readonly faces: Faces
      readonly light: Light
      readonly cell: number
      readonly ms: number
    }
  | { readonly type: 'refined'; readonly refined: Refined; readonly ms: number }
  | { readonly type: 'trouble'; readonly message: string }
