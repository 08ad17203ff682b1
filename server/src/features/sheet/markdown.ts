/** A name for Markdown: it comes from the sheet and may hold markup. */
export function escaped(text: string): string {
  return text.replace(/[\\`*_{}[\]<>#+!|~&]/g, '\\$&')
}
