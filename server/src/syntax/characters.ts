/** Bytes the scanner and the expression reader look for. */
export const SPACE = 32
export const TAB = 9
export const NEWLINE = 10
export const RETURN = 13

/** What a byte can begin; a table, because the scanner asks once for every byte outside comments. */
export const isLetter = (byte: number): boolean => (byte | 32) >= 97 && (byte | 32) <= 122
export const isDigit = (byte: number): boolean => byte >= 48 && byte <= 57
export const isBlank = (byte: number): boolean => byte === SPACE || byte === TAB
export const isLineEnd = (byte: number): boolean => byte === NEWLINE || byte === RETURN

/** 10^0 to 10^22: the powers that a double holds exactly. */
export const POWERS: Float64Array = Float64Array.from({ length: 23 }, (_, exponent) => Number(`1e${exponent}`))

/** The text of a run of bytes with blanks taken out, lower case; for names and for numbers too long for the fast way. */
export function squeezed(bytes: Uint8Array, from: number, to: number): string {
  let text = ''
  for (let i = from; i < to; i++) {
    const byte = bytes[i]
    if (!isBlank(byte)) text += String.fromCharCode(byte)
  }
  return text.toLowerCase()
}
