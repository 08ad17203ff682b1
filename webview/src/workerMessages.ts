import type { PreviewJob, SectionPlane } from '../../server/src/features/preview/protocol.ts'
import type { Moment } from './clock.ts'
import type { Faces } from './faces.ts'
import type { Valued } from './layerValues.ts'
import type { Light, Suns } from './light.ts'
import type { Refined } from './refiner.ts'
import type { Section } from './section.ts'
import type { Place } from './snap.ts'

/** A picture that is asked for. */
export interface Wanted {
  readonly moment: Moment
  /** A number of each column, to colour the surface by. */
  readonly values?: Valued
  /** What was set in by itself, so that it can be lifted out. */
  readonly apart?: boolean
}

/** Faces with their light. */
export interface Lit {
  readonly faces: Faces
  readonly light: Light
}

/** From the page to its worker. */
export type ToWorker =
  | { readonly type: 'build'; readonly of: number; readonly job: PreviewJob; readonly suns: Suns }
  | ({ readonly type: 'show'; readonly suns: Suns } & Wanted)
  /** Columns of a picture that is shown no more, given back for the next one. */
  | { readonly type: 'spare'; readonly columns: Float32Array }
  /** Make what was shown last crisp. */
  | { readonly type: 'refine' }
  | { readonly type: 'section'; readonly plane: SectionPlane; readonly moment: Moment }
  | {
      readonly type: 'snap'
      readonly id: number
      readonly moment: Moment
      readonly point: readonly [number, number, number]
      readonly upper: boolean
      readonly reach: number
    }

/** From the worker to the page. `refined` belongs to the picture shown last. */
export type FromWorker =
  | { readonly type: 'progress'; readonly share: number; readonly setup: number }
  | { readonly type: 'built'; readonly ms: number; readonly anew: number }
  | {
      readonly type: 'shown'
      /** Number of the build that it is a picture of. */
      readonly of: number
      readonly moment: Moment
      readonly faces: Faces
      readonly light: Light
      readonly inlay?: Lit
      readonly values?: Float32Array
      readonly cell: number
      readonly ms: number
    }
  | { readonly type: 'refined'; readonly refined: Refined; readonly ms: number }
  | { readonly type: 'section'; readonly section: Section | undefined; readonly ms: number }
  | { readonly type: 'snapped'; readonly id: number; readonly place: Place | undefined }
  | { readonly type: 'trouble'; readonly message: string }
