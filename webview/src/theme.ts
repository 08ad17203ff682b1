import * as THREE from 'three'

/** Colours of the page that the drawing needs too (as shown, sRGB). */
export interface Theme {
  readonly page: THREE.Color
  readonly dark: boolean
  readonly contrast: boolean
  /** Path already cut, the last of it, and rapids. */
  readonly pencil: THREE.Color
  readonly fresh: THREE.Color
  readonly thread: THREE.Color
}

/** The colours in force, from the editor's own where it gives them. */
export function themeOf(document: Document): Theme {
  const style = getComputedStyle(document.body)
  const colour = (name: string) => parse(style.getPropertyValue(name), document)
  const page = colour('--page')
  const dark = 0.3 * page.r + 0.6 * page.g + 0.1 * page.b < 0.45
  const contrast =
    document.body.className.includes('high-contrast') ||
    matchMedia('(prefers-contrast: more), (forced-colors: active)').matches
  return { page, dark, contrast, pencil: colour('--pencil'), fresh: colour('--fresh'), thread: colour('--thread') }
}

/** Any colour that CSS can write, by asking the browser. */
function parse(css: string, document: Document): THREE.Color {
  const probe = document.createElement('span')
  probe.style.color = css.trim() || 'gray'
  document.body.append(probe)
  const [r = 128, g = 128, b = 128] = (getComputedStyle(probe).color.match(/[\d.]+/g) ?? []).map(Number)
  probe.remove()
  const colour = new THREE.Color()
  colour.r = r / 255
  colour.g = g / 255
  colour.b = b / 255
  return colour
}

/** Calls back whenever the colours may have changed. */
export function onThemeChange(document: Document, changed: () => void): void {
  const watcher = new MutationObserver(changed)
  watcher.observe(document.body, { attributes: true, attributeFilter: ['class', 'data-vscode-theme-id'] })
  watcher.observe(document.documentElement, { attributes: true, attributeFilter: ['style', 'class'] })
  for (const query of ['(prefers-color-scheme: dark)', '(prefers-contrast: more)', '(forced-colors: active)']) {
    matchMedia(query).addEventListener('change', changed)
  }
}
