/** An element with a class and text. Text is always text: a name with markup in it is shown as it is written. */
export function make<K extends keyof HTMLElementTagNameMap>(
  tag: K,
  name = '',
  text = '',
  attributes: Readonly<Record<string, string>> = {},
): HTMLElementTagNameMap[K] {
  const element = document.createElement(tag)
  if (name) element.className = name
  if (text) element.textContent = text
  for (const [key, value] of Object.entries(attributes)) element.setAttribute(key, value)
  return element
}

/** mm as a person reads them: two places under 1, one under 100. */
export function mm(value: number): string {
  const places = Math.abs(value) < 0.9995 ? 2 : Math.abs(value) < 99.95 ? 1 : 0
  // No negative nought.
  return (Number(value.toFixed(places)) || 0).toFixed(places).replace('-', '\u2212')
}

/** The last part of a URI, readable. */
export function fileName(uri: string): string {
  const last = uri.split('/').pop() ?? uri
  try {
    return decodeURIComponent(last)
  } catch {
    return last
  }
}

/** mm to a hundredth: what is measured. */
export function mm2(value: number): string {
  return (Number(value.toFixed(2)) || 0).toFixed(2).replace('-', '\u2212')
}
