/** The bytes of a program with a line end after them, so that a scanner needs no bounds checks. */
export function withLineEnd(bytes: Uint8Array): Uint8Array {
  const longer = new Uint8Array(bytes.length + 1)
  longer.set(bytes)
  longer[bytes.length] = 10
  return longer
}

/** Where the text begins: after a byte order mark, which no editor counts as a column. */
export function textStart(bytes: Uint8Array): number {
  return bytes[0] === 0xef && bytes[1] === 0xbb && bytes[2] === 0xbf ? 3 : 0
}

/** Offsets where the lines begin, growing as they are read. */
export class LineStarts {
  count = 0
  at = new Uint32Array(1024)

  add(offset: number): void {
    if (this.count === this.at.length) {
      const longer = new Uint32Array(this.count * 2)
      longer.set(this.at)
      this.at = longer
    }
    this.at[this.count++] = offset
  }
}
