import type { FromPreview, SectionPlane, stances } from '../../server/src/features/preview/protocol.ts'
import type { PathLayer, SurfaceLayer } from './layers.ts'

/** What a person sees and how: kept by the editor while the page is hidden. */
export interface View {
  readonly copy: string
  /** Name of the set-up, for a job may be another when the page comes back. */
  readonly setup: string
  readonly motion: number
  readonly share: number
  readonly stance: (typeof stances)[number]
  readonly azimuth: number
  readonly polar: number
  readonly zoom: number
  readonly surface: SurfaceLayer
  readonly path: 'all' | 'near' | 'none'
  readonly tint: PathLayer
  readonly plane?: SectionPlane
}

interface EditorApi {
  postMessage(message: FromPreview): void
  getState(): Partial<View> | undefined
  setState(state: View): void
}

declare global {
  // Given by the editor to its own pages only, and only once.
  var acquireVsCodeApi: (() => EditorApi) | undefined
}

const api = globalThis.acquireVsCodeApi?.()

/** Whether the page stands in an editor that hears it. */
export const inEditor = api !== undefined

export function post(message: FromPreview): void {
  api?.postMessage(message)
}

/** What was kept, or what a page of its own was made to show first. */
export function keptView(): Partial<View> {
  const chosen = document.getElementById('view')?.textContent
  return api?.getState() ?? (chosen ? (JSON.parse(chosen) as Partial<View>) : {})
}

export function keepView(view: View): void {
  api?.setState(view)
}
