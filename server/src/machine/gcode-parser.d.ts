/** The package ships no types. */
declare module 'gcode-parser' {
  export interface ParsedLine {
    readonly words: readonly (readonly [string, number | string])[]
  }
  export function parseLine(line: string): ParsedLine
  /** For the bench, which compares. */
  export function parseStringSync(text: string): readonly ParsedLine[]
}
