import type { ToPreview } from '../../server/src/features/preview/protocol.ts'
import { jobFromText } from '../../server/src/features/preview/wire.ts'
import { post } from './editor.ts'
import { newPreview } from './preview.ts'

/** The page: its own job if one is packed into it, else whatever the editor sends. */
const preview = newPreview(document.body)

window.addEventListener('message', ({ data }: MessageEvent<ToPreview>) => {
  try {
    preview.hear(data)
  } catch (error) {
    preview.trouble(error)
  }
})
window.addEventListener('error', event => post({ type: 'trouble', message: event.message }))
window.addEventListener('unhandledrejection', event => post({ type: 'trouble', message: String(event.reason) }))

const packed = document.getElementById('job')
if (packed) {
  try {
    preview.hear({ type: 'job', job: jobFromText(packed.textContent ?? '') })
  } catch (error) {
    preview.trouble(error)
  }
}
post({ type: 'ready' })
