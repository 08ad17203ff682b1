import { NEWLINE, RETURN } from '../syntax/characters.ts'

const OPEN = 40
const CLOSE = 41

/** Where the comment that opens there ends; where the line goes on to no end if it does not, or holds another. */
export function closingBracket(bytes: Uint8Array, open: number): number {
  let p = open + 1
  while (bytes[p] !== CLOSE && bytes[p] !== OPEN && bytes[p] !== NEWLINE && bytes[p] !== RETURN) p++
  // The bracket that opens it is no line end, so that the line is left to be read with care.
  return bytes[p] === CLOSE ? p + 1 : open
}

/** Where the line ends that a byte is on. */
export function lineEndAfter(bytes: Uint8Array, from: number): number {
  let p = from
  while (bytes[p] !== NEWLINE && bytes[p] !== RETURN) p++
  return p
}
