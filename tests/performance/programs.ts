/**
 * A long program as finishing passes look: short moves over a gently waved floor, a feed or a comment now and then.
 * `lines` of 1,000,000 make about 34 MB.
 */
export function longProgram(lines: number): string {
  const out = ['(long floor)', 'G21 G90 G17', 'T1 M6', 'S16000 M3', 'G0 Z5.000', 'G0 X0.000 Y0.000', 'G1 Z-1.000 F400']
  for (let i = out.length; i < lines - 3; i++) {
    const row = Math.floor(i / 1000)
    const along = i % 1000
    const x = 20 + (row % 2 === 0 ? along : 999 - along) * 0.25
    const y = 20 + (row % 1000) * 0.25
    const z = -4 - Math.sin(x / 9) * Math.cos(y / 7)
    if (along === 0) out.push(`G1 X${x.toFixed(4)} Y${y.toFixed(4)} Z${z.toFixed(4)} F1800 (row ${row})`)
    else out.push(`G1 X${x.toFixed(4)} Y${y.toFixed(4)} Z${z.toFixed(4)}`)
  }
  out.push('G0 Z5.000', 'M5', 'M30')
  return `${out.join('\n')}\n`
}
