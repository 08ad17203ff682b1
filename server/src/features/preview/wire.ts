import type { PreviewJob } from './protocol.ts'

/**
 * A preview job as text and back, for the ways that carry only text: a page of its own, and JSON-RPC. Typed arrays
 * become `{ "typed": name, "base64": bytes }` in the byte order of every machine that runs a browser today
 * (little-endian); NaN and the infinities, which JSON has not, become `{ "number": "NaN" }`.
 */
const typedArrays = { Uint8Array, Int16Array, Int32Array, Uint32Array, Float32Array, Float64Array } as const
type TypedName = keyof typeof typedArrays

/** The job as JSON text. */
export function jobToText(job: PreviewJob): string {
  return JSON.stringify(job, (_key, value: unknown) => {
    if (ArrayBuffer.isView(value)) return { typed: value.constructor.name, base64: base64Of(value) }
    if (typeof value === 'number' && !Number.isFinite(value)) return { number: String(value) }
    return value
  })
}

/**
 * The job that `jobToText` wrote.
 * @throws SyntaxError where the text is not such a job's.
 */
export function jobFromText(text: string): PreviewJob {
  return JSON.parse(text, (_key, value: unknown) => {
    if (typeof value !== 'object' || value === null) return value
    if ('typed' in value && 'base64' in value) return arrayOf(String(value.typed), String(value.base64))
    if ('number' in value && typeof value.number === 'string') return Number(value.number)
    return value
  }) as PreviewJob
}

function base64Of(view: ArrayBufferView): string {
  const bytes = new Uint8Array(view.buffer, view.byteOffset, view.byteLength)
  let binary = ''
  // In pieces: an argument list of a whole array overflows the stack.
  for (let at = 0; at < bytes.length; at += 0x8000) {
    binary += String.fromCharCode(...bytes.subarray(at, at + 0x8000))
  }
  return btoa(binary)
}

function arrayOf(name: string, base64: string): ArrayBufferView {
  if (!(name in typedArrays)) throw new SyntaxError(`No array of the kind ${name}`)
  const binary = atob(base64)
  const bytes = new Uint8Array(binary.length)
  for (let i = 0; i < binary.length; i++) bytes[i] = binary.charCodeAt(i)
  return new typedArrays[name as TypedName](bytes.buffer)
}
