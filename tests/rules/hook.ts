/**
 * A motif with a hand: a stroke of 14 mm that turns into a quarter circle of radius 8, as wide as a 6 mm bit. The plug
 * leaves it standing, the pocket is one pass of the bit along its middle.
 */
const header = ['G21 G90', 'T1 M6', 'S16000 M3', 'G0 Z5']
const footer = ['G0 Z5', 'M5', 'M30']

/** The moat round the motif; its foot at (14, 10). `half` is half its width. */
export function hookPlug(half: number, depth: number): string {
  const d = half + 3
  const [x, y] = [14, 10]
  return [
    ...header,
    `G0 X${x - d} Y${y}`,
    'G0 Z1',
    `G1 Z${-depth} F300`,
    `G1 Y${y + 14} F1200`,
    `G2 X${x + 8} Y${y + 22 + d} I${8 + d} J0`,
    `G2 X${x + 8} Y${y + 22 - d} I0 J${-d}`,
    `G3 X${x + d} Y${y + 14} I0 J${d - 8}`,
    `G1 Y${y}`,
    `G2 X${x - d} Y${y} I${-d} J0`,
    ...footer,
  ].join('\n')
}

/** The pocket for it, as it has to be (mirrored) or as it was drawn. */
export function hookPocket(mirrored: boolean, depth: number): string {
  const end = mirrored ? 'G3 X32 Y42 I-8 J0' : 'G2 X48 Y42 I8 J0'
  return [...header, 'G0 X40 Y20', 'G0 Z1', `G1 Z${-depth} F300`, 'G1 Y34 F1200', end, ...footer].join('\n')
}

/** A rectangle left standing, its corners sharp: the bit goes round them square. */
export function squarePlug(halfX: number, halfY: number, depth: number): string {
  const [x, y] = [halfX + 3, halfY + 3]
  return [
    ...header,
    `G0 X${22 - x} Y${25 - y}`,
    'G0 Z1',
    `G1 Z${-depth} F300`,
    `G1 Y${25 + y} F1200`,
    `G1 X${22 + x}`,
    `G1 Y${25 - y}`,
    `G1 X${22 - x}`,
    ...footer,
  ].join('\n')
}

/** A rectangular pocket about (40, 31), cleared from the middle out; its corners are as round as the bit. */
export function squarePocket(halfX: number, halfY: number, depth: number): string {
  const rings: string[] = []
  for (let inset = Math.floor((halfY - 3) / 3) * 3; inset >= 0; inset -= 3) {
    const [x, y] = [halfX - 3 - inset, halfY - 3 - inset]
    rings.push(`G1 X${40 - x} Y${31 - y} F1200`, `G1 Y${31 + y}`, `G1 X${40 + x}`, `G1 Y${31 - y}`, `G1 X${40 - x}`)
  }
  return [...header, 'G0 X40 Y31', 'G0 Z1', `G1 Z${-depth} F300`, ...rings, ...footer].join('\n')
}
