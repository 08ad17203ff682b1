import type { PreviewJob, SectionPlane } from '../../server/src/features/preview/protocol.ts'
import { asReceived } from '../../server/src/stock/lie.ts'
import type { Stock } from '../../server/src/stock/stock.ts'
import { type Carver, newCarver } from './carver.ts'
import type { Moment } from './clock.ts'
import { ColumnSource, type ExactColumns } from './exactColumn.ts'
import { type Faces, facesOf } from './faces.ts'
import { leftOf, thicknessOf, type Valued } from './layerValues.ts'
import { type Light, lightOf, type Suns } from './light.ts'
import { sectionOf } from './section.ts'
import { snap } from './snap.ts'
import type { FromWorker, ToWorker, Wanted } from './workerMessages.ts'

/**
 * The worker: carves with the stock kernel, and hands over what is drawn without copying it. It outlives its job: of
 * the same job after an edit only what changed is carved again.
 */
const post = (message: FromWorker, transfer: Transferable[] = []) => self.postMessage(message, { transfer })
const now = () => performance.now()
let carver: Carver | undefined
let number = 0
let source: ColumnSource | undefined
let exact: { readonly key: string; readonly columns: ExactColumns | undefined } | undefined
/** Columns that the page needs no more. */
let spare: Float32Array | undefined
/** The picture shown last. */
let latest: { readonly faces: Faces; readonly cell: number; readonly moment: Moment } | undefined

self.onmessage = ({ data }: MessageEvent<ToWorker>) => {
  try {
    switch (data.type) {
      case 'build':
        number = data.of
        return build(data.job, data.suns)
      case 'show':
        return show(data, data.suns)
      case 'refine':
        return refine()
      case 'section':
        return cutOpen(data.plane, data.moment)
      case 'spare':
        spare = data.columns
        return
      case 'snap': {
        const columns = columnsAt(data.moment)
        const place = columns && snap(columns, data.point, data.upper, data.reach)
        return post({ type: 'snapped', id: data.id, place })
      }
    }
  } catch (error) {
    post({ type: 'trouble', message: error instanceof Error ? error.message : String(error) })
  }
}

function build(job: PreviewJob, suns: Suns) {
  const began = now()
  const next = newCarver(job, carver)
  carver = next
  latest = undefined
  source = undefined
  exact = undefined
  let seen = began
  next.build((share, setup) => {
    post({ type: 'progress', share, setup })
    // The piece takes shape before the eye while the rest is still being carved.
    if (share < 1 && now() - seen > 400) {
      show({ moment: { setup, motion: Number.MAX_SAFE_INTEGER, share: 1 } }, suns)
      seen = now()
    }
  })
  post({ type: 'built', ms: now() - began, anew: next.carvedAnew() })
  warm()
}

/** What makes jumps quick is made between messages, a little at a time. */
function warm() {
  const of = carver
  setTimeout(() => {
    if (of && of === carver && of.warm()) warm()
  })
}

/** What is asked for meanwhile comes first; once another picture is shown, the rest of this one's is left undone. */
function refine() {
  if (!carver || !latest) return
  const of = latest
  const steps = carver.refiner.refine(of.faces, of.cell, of.moment)
  let ms = 0
  const goOn = () => {
    if (latest !== of) return
    const began = now()
    const step = steps.next()
    ms += now() - began
    if (!step.done) return void setTimeout(goOn)
    const { upper, lower, seam } = step.value
    post({ type: 'refined', refined: step.value, ms }, [upper.buffer, lower.buffer, seam.buffer])
  }
  goOn()
}

function cutOpen(plane: SectionPlane, moment: Moment) {
  const began = now()
  const columns = columnsAt(moment)
  const section = columns && sectionOf(columns, plane)
  const transfer = section ? [section.strips.buffer, section.materials.buffer] : []
  post({ type: 'section', section, ms: now() - began }, transfer)
}

/** Exact columns of a moment; those of the last one asked for are kept, for a plane is dragged through them. */
function columnsAt(moment: Moment): ExactColumns | undefined {
  if (!carver) return undefined
  source ??= new ColumnSource(carver.job, carver)
  const key = `${moment.setup} ${moment.motion} ${moment.share}`
  if (exact?.key !== key) exact = { key, columns: source.at(moment) }
  return exact.columns
}

function show({ moment, values, apart }: Wanted, suns: Suns) {
  if (!carver) return
  const began = now()
  const { stock, lie, thickness } = carver.at(moment)
  const { cell } = stock.grid
  const inserted = apart ? facesOf(stock, lie, thickness, material => material > 0) : undefined
  const inlay = inserted && { faces: inserted, light: lightOf(inserted, cell, suns) }
  const only = apart ? (material: number) => material === 0 : undefined
  const faces = facesOf(stock, lie, thickness, only, latest?.faces.columns)
  const light = lightOf(faces, cell, suns)
  latest = { faces, cell, moment }
  const shown = { ...faces, columns: copied(faces.columns) }
  const numbers = values && valuesOf(carver, values, moment.setup, lie ? asReceived(stock, lie, thickness) : stock)
  post(
    { type: 'shown', of: number, moment, faces: shown, light, inlay, values: numbers, cell, ms: now() - began },
    [...buffersOf(shown, light), ...(inlay ? buffersOf(inlay.faces, inlay.light) : [])].concat(
      numbers ? [numbers.buffer as ArrayBuffer] : [],
    ),
  )
}

/** A copy of the columns to send away, in what came back of an earlier one where it fits. */
function copied(columns: Float32Array): Float32Array {
  const copy = spare?.length === columns.length ? spare : new Float32Array(columns.length)
  spare = undefined
  copy.set(columns)
  return copy
}

function buffersOf({ columns, upperEven, upperRough, lowerEven, lowerRough }: Faces, light: Light): ArrayBuffer[] {
  const arrays = [columns, upperEven, upperRough, lowerEven, lowerRough, light.bytes, light.ground.bytes]
  return arrays.map(array => array.buffer as ArrayBuffer)
}

function valuesOf(of: Carver, values: Valued, setup: number, stock: Stock): Float32Array {
  switch (values) {
    case 'thickness':
      return thicknessOf(stock)
    case 'left': {
      const last = of.job.setups.findLastIndex(each => each.blank === of.job.setups[setup]?.blank)
      return last < 0 ? thicknessOf(stock) : leftOf(stock, of.after(last))
    }
    case 'changed':
      return of.changedBy(setup) ?? new Float32Array(stock.grid.nx * stock.grid.ny)
  }
}
