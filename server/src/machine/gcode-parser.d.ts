/** The package ships no types; this is the one function that is used. */
declare module 'gcode-parser' {
  export function parseLine(line: string): { readonly words: readonly (readonly [string, number | string])[] }
}
