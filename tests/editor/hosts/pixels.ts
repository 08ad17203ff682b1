import type { Locator, Page } from 'playwright-core'

/** A picture as bytes: red, green, blue and alpha of each pixel, row by row. */
export interface Picture {
  readonly width: number
  readonly height: number
  readonly bytes: Uint8Array
}

/** Takes pictures until two in a row are alike: what was being drawn is drawn. */
export async function stillPicture(of: Locator): Promise<Buffer> {
  let before = await of.screenshot()
  for (;;) {
    const now = await of.screenshot()
    if (now.equals(before)) return now
    before = now
  }
}

/** The pixels of a PNG, read by the browser itself on an empty page of its own. */
export async function pixelsOf(page: Page, png: Buffer): Promise<Picture> {
  const reader = await page.context().newPage()
  try {
    const read = await reader.evaluate(async base64 => {
      const bytes = Uint8Array.from(atob(base64), character => character.charCodeAt(0))
      const bitmap = await createImageBitmap(new Blob([bytes], { type: 'image/png' }))
      const context = new OffscreenCanvas(bitmap.width, bitmap.height).getContext('2d')!
      context.drawImage(bitmap, 0, 0)
      const { data } = context.getImageData(0, 0, bitmap.width, bitmap.height)
      let binary = ''
      for (let at = 0; at < data.length; at += 0x8000) binary += String.fromCharCode(...data.subarray(at, at + 0x8000))
      return { width: bitmap.width, height: bitmap.height, base64: btoa(binary) }
    }, png.toString('base64'))
    return { width: read.width, height: read.height, bytes: new Uint8Array(Buffer.from(read.base64, 'base64')) }
  } finally {
    await reader.close()
  }
}

/** Share of the pixels whose colour differs plainly between two pictures of one size. */
export function shareThatDiffers(a: Picture, b: Picture): number {
  if (a.width !== b.width || a.height !== b.height) return 1
  let differ = 0
  for (let at = 0; at < a.bytes.length; at += 4) {
    const distance =
      Math.abs(a.bytes[at] - b.bytes[at]) +
      Math.abs(a.bytes[at + 1] - b.bytes[at + 1]) +
      Math.abs(a.bytes[at + 2] - b.bytes[at + 2])
    if (distance > 40) differ++
  }
  return differ / (a.width * a.height)
}

/** How many plainly different colours a picture holds: one for a canvas on which nothing is drawn. */
export function coloursIn({ bytes }: Picture): number {
  const colours = new Set<number>()
  for (let at = 0; at < bytes.length; at += 4) {
    colours.add(((bytes[at] >> 4) << 8) | ((bytes[at + 1] >> 4) << 4) | (bytes[at + 2] >> 4))
  }
  return colours.size
}
