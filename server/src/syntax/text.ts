/**
 * The bytes of a program with a line end after them, so that a scanner needs no bounds checks. It is a return, for a
 * newline would become one line end with a return that the text ends in.
 */
export function withLineEnd(bytes: Uint8Array): Uint8Array {
  const longer = new Uint8Array(bytes.length + 1)
  longer.set(bytes)
  longer[bytes.length] = 13
  return longer
}
