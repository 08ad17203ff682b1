import { type Carver, newCarver } from './carver.ts'
import type { Moment } from './clock.ts'
import { facesOf } from './faces.ts'
import { lightOf, type Suns } from './light.ts'
import type { FromWorker, ToWorker } from './workerMessages.ts'

/** The worker: carves with the stock kernel, and hands over what is drawn without copying it. */
const post = (message: FromWorker, transfer: Transferable[] = []) => self.postMessage(message, { transfer })
const now = () => performance.now()
let carver: Carver | undefined

self.onmessage = ({ data }: MessageEvent<ToWorker>) => {
  try {
    const began = now()
    if (data.type === 'build') {
      carver = newCarver(data.job, now)
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
    } else {
      show(data.moment, data.suns)
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
  const { columns, upperEven, upperRough, lowerEven, lowerRough } = faces
  const transfer = [columns, upperEven, upperRough, lowerEven, lowerRough, light.bytes, light.ground.bytes]
  post(
    { type: 'shown', moment, faces, light, cell: stock.grid.cell, ms: now() - began },
    transfer.map(array => array.buffer),
  )
}
