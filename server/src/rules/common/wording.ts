import type { Reach } from '../rule.ts'

/** A number for a sentence: at most `places` decimals, no trailing zeros, no minus zero. */
export function number(value: number, places = 2): string {
  const fixed = value.toFixed(places)
  const text = fixed.includes('.') ? fixed.replace(/\.?0+$/, '') : fixed
  return text === '-0' ? '0' : text
}

/** "12.5 mm"; lengths below a hundredth keep three decimals. */
export function mm(value: number): string {
  return `${number(value, Math.abs(value) < 0.1 ? 3 : 2)} mm`
}

/** "1800 mm/min" */
export function perMinute(value: number): string {
  return `${number(value, value < 10 ? 1 : 0)} mm/min`
}

/** "Z-4.2" */
export function height(value: number): string {
  return `Z${number(value, 3)}`
}

/** A sentence on how far a cause reaches, with a space before it; '' where it is one move. */
export function reachSentence(reach: Reach | undefined): string {
  if (!reach || reach.moves < 2) return ''
  const lines =
    reach.firstLine === reach.lastLine
      ? `all on line ${reach.firstLine + 1}`
      : `from line ${reach.firstLine + 1} to line ${reach.lastLine + 1}`
  return ` It holds for ${reach.moves} moves, ${lines}.`
}
