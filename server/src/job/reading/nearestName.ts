/** Edits (insert, delete, replace, swap of neighbours) that turn one word into the other; capital letters alike. */
function editsBetween(one: string, other: string): number {
  const a = one.toLowerCase()
  const b = other.toLowerCase()
  let beforeLast: number[] = []
  let last = Array.from({ length: b.length + 1 }, (_, j) => j)
  for (let i = 1; i <= a.length; i++) {
    const row = [i]
    for (let j = 1; j <= b.length; j++) {
      const replace = last[j - 1] + (a[i - 1] === b[j - 1] ? 0 : 1)
      row[j] = Math.min(replace, last[j] + 1, row[j - 1] + 1)
      const swapped = i > 1 && j > 1 && a[i - 1] === b[j - 2] && a[i - 2] === b[j - 1]
      if (swapped) row[j] = Math.min(row[j], beforeLast[j - 2] + 1)
    }
    beforeLast = last
    last = row
  }
  return last[b.length]
}

/** The known name that was most likely meant; undefined where none is near enough to be worth naming. */
export function nearestName(written: string, known: Iterable<string>): string | undefined {
  if (written.length > 60) return undefined
  let best: string | undefined
  let fewest = Math.max(1, Math.floor(written.length / 3)) + 1
  for (const name of known) {
    const edits = editsBetween(written, name)
    if (edits < fewest) {
      fewest = edits
      best = name
    }
  }
  return best
}

/** ` Did you mean "…"?`, or the names that exist, or nothing. */
export function hintFor(written: string, known: readonly string[]): string {
  const near = nearestName(written, known)
  if (near !== undefined) return ` Did you mean "${near}"?`
  if (known.length === 0 || known.length > 24) return ''
  return ` Known here: ${known.map(name => `"${name}"`).join(', ')}.`
}
