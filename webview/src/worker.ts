import type { PreviewJob } from '../../server/src/features/preview/protocol.ts'
import { type Carver, newCarver } from './carver.ts'
import type { Moment } from './clock.ts'
import { type Faces, facesOf } from './faces.ts'
import { lightOf, type Suns } from './light.ts'
import { newRefiner, type Refiner } from './refiner.ts'
import type { FromWorker, ToWorker } from './workerMessages.ts'

/** The worker: carves with the stock kernel, and hands over what is drawn without copying it. */
const post = (message: FromWorker, transfer: Transferable[] = []) => self.postMessage(message, { transfer })
const now = () => performance.now()
let job: PreviewJob | undefined
let carver: Carver | undefined
let refiner: Refiner | undefined
/** The picture shown last. */
let latest: { readonly faces: Faces; readonly cell: number; readonly moment: Moment } | undefined

self.onmessage = ({ data }: MessageEvent<ToWorker>) => {
  try {
    const began = now()
    if (data.type === 'build') {
      job = data.job
      carver = newCarver(job, now)
      let told = now()
      let seen = 0
      carver.build((share, setup, done) => {
        if (now() - told > 100) {
          told = now()
          post({ type: 'progress', share, setup })
        }
        // The piece takes shape before the eye while the rest is still being carved.
        if (done && share < 1 && now() - seen > 400) {
          show({ setup, motion: Number.MAX_SAFE_INTEGER, share: 1 }, data.suns)
          seen = now()
        }
      })
      post({ type: 'built', ms: now() - began })
    } else if (data.type === 'show') {
      show(data.moment, data.suns)
    } else if (carver && latest) {
      refiner ??= newRefiner(job!, carver.before)
      const refined = refiner.refine(latest.faces, latest.cell, latest.moment)
      const { upper, lower, seam } = refined
      post({ type: 'refined', refined, ms: now() - began }, [upper.buffer, lower.buffer, seam.buffer])
    }
  } catch (error) {
    post({ type: 'trouble', message: error instanceof Error ? error.message : String(error) })
  }
}

function show(moment: Moment, suns: Suns) {
  if (!carver) return
  const began = now()
  const { stock, lie, thickness } = carver.at(moment)
  const faces = facesOf(stock, lie, thickness)
  const light = lightOf(faces, stock.grid.cell, suns)
  latest = { faces, cell: stock.grid.cell, moment }
  const columns = faces.columns.slice()
  const { upperEven, upperRough, lowerEven, lowerRough } = faces
  const transfer = [columns, upperEven, upperRough, lowerEven, lowerRough, light.bytes, light.ground.bytes]
  post(
    { type: 'shown', moment, faces: { ...faces, columns }, light, cell: stock.grid.cell, ms: now() - began },
    transfer.map(array => array.buffer),
  )
}
