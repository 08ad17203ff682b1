import { type Carver, newCarver } from './carver.ts'
import { facesOf } from './faces.ts'
import { lightOf } from './light.ts'
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
      carver.build((share, setup) => {
        if (now() - told < 100) return
        told = now()
        post({ type: 'progress', share, setup })
      })
      post({ type: 'built', ms: now() - began })
    } else if (carver) {
      const stock = carver.at(data.moment)
      const faces = facesOf(stock, data.spare)
      const light = lightOf(faces, stock.grid.cell, data.suns)
      const message = {
        type: 'shown',
        moment: data.moment,
        faces,
        light,
        cell: stock.grid.cell,
        ms: now() - began,
      } as const
      const { columns, upperEven, upperRough, lowerEven, lowerRough } = faces
      post(
        message,
        [columns, upperEven, upperRough, lowerEven, lowerRough, light.bytes].map(array => array.buffer),
      )
    }
  } catch (error) {
    post({ type: 'trouble', message: error instanceof Error ? error.message : String(error) })
  }
}
