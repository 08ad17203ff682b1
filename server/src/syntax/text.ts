import { isLineEnd } from './characters.ts'

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

/** The same in parts of whole lines, so that a long text need not be copied for the sake of its last line. */
export function wholeLines(bytes: Uint8Array): readonly Uint8Array[] {
  let lastLine = bytes.length
  while (lastLine > 0 && !isLineEnd(bytes[lastLine - 1])) lastLine--
  return [bytes.subarray(0, lastLine), withLineEnd(bytes.subarray(lastLine))]
}
