/** UTF-16 code units from byte `from` to byte `to`. */
export function columns(bytes: Uint8Array, from: number, to: number): number {
  let units = to - from
  for (let i = from; i < to; i++) {
    const byte = bytes[i]
    if (byte < 0x80) continue
    // Continuation bytes add nothing; a four-byte character is two code units.
    if (byte < 0xc0) units--
    else if (byte >= 0xf0) units++
  }
  return units
}

/**
 * Columns of places on one line, asked for from left to right: each goes on from the one before it, so that a very
 * long line costs no more than its length.
 */
export class ColumnCounter {
  private bytes: Uint8Array | undefined
  private from = 0
  private last = 0
  private units = 0

  /** UTF-16 code units from byte `from` to byte `to`. */
  at(bytes: Uint8Array, from: number, to: number): number {
    const goesOn = this.bytes === bytes && this.from === from && this.last <= to
    this.units = goesOn ? this.units + columns(bytes, this.last, to) : columns(bytes, from, to)
    this.bytes = bytes
    this.from = from
    this.last = to
    return this.units
  }
}

/** The offset of the byte at a UTF-16 column after `from`, no farther than `stop`. */
export function byteAt(bytes: Uint8Array, from: number, stop: number, column: number): number {
  let units = 0
  let i = from
  while (i < stop && units < column) {
    const byte = bytes[i++]
    units += byte >= 0xf0 ? 2 : 1
    while (i < stop && (bytes[i] & 0xc0) === 0x80) i++
  }
  return i
}
