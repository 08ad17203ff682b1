import { type BandJob, buffersOf, carveBand } from '../stock/bands.ts'

/** The script of a thread that carves bands: one job in, one answer out, in any environment with messages. */
const scope = globalThis as unknown as {
  onmessage: (event: { readonly data: BandJob }) => void
  postMessage(message: unknown, transfer?: ArrayBuffer[]): void
}

scope.onmessage = ({ data }) => {
  try {
    const answer = carveBand(data)
    scope.postMessage({ answer }, buffersOf(answer))
  } catch (error) {
    scope.postMessage({ fault: String(error) })
  }
}
