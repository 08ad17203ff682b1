import { describe, expect, it } from 'vitest'
import { escapeMarkup, previewPage } from '../../server/src/features/preview/page.ts'
import { jobFromText } from '../../server/src/features/preview/wire.ts'
import { dishJob } from './dish.ts'

const parts = { script: 'const a = "</script><!--"', style: 'p { content: "</style>" }', nonce: 'n0nce' }
const wild = '</script><script>alert(1)</script><!-- <img src=x onerror=alert(2)>'

describe('the page', () => {
  it('lets nothing out of the elements it stands in', () => {
    const page = previewPage(dishJob({ title: wild, copy: wild }, 4), parts)
    // Two scripts begin and end, the data and the program: none by a name, none by the script's own text.
    expect(page.match(/<script/gi)).toHaveLength(2)
    expect(page.match(/<\/script/gi)).toHaveLength(2)
    expect(page.match(/<\/style/gi)).toHaveLength(1)
    expect(page.includes('<img')).toBe(false)
    expect(page.includes('<!--')).toBe(false)
  })

  it('carries the job whole, whatever is in its names', () => {
    const job = dishJob({ title: wild }, 4)
    const packed = previewPage(job, parts).match(/id="job">(.*?)<\/script>/s)?.[1]
    expect(jobFromText(packed ?? '')).toEqual(job)
  })

  it('allows only its own script and style, workers from blobs, and nothing from outside', () => {
    const page = previewPage(undefined, parts)
    expect(page).toContain(
      "default-src 'none'; script-src 'nonce-n0nce' 'wasm-unsafe-eval'; worker-src blob:; style-src 'nonce-n0nce'; img-src data: blob:",
    )
    expect(page).not.toContain('id="job"')
    expect(page).not.toMatch(/https?:\/\//)
    expect(page).not.toMatch(/ style=/)
  })

  it('writes markup as text', () => {
    expect(escapeMarkup(`<a href="x">'&</a>`)).toBe('&#60;a href=&#34;x&#34;&#62;&#39;&#38;&#60;/a&#62;')
  })
})
