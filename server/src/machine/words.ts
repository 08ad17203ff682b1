/** What a code or letter of the language means, for reading, hovers, completion and the refusals of dialects. */
export interface CodeMeaning {
  /** `G0`, `M3`, `G59.1`. */
  readonly code: string
  /** In the trade's words. */
  readonly title: string
  /** Section of NISTIR 6556, or undefined for what that report does not have. */
  readonly section?: string
  /** Modal group of Table 4; M groups are counted from 100. */
  readonly group: number
  /** Part of the standard alone. */
  readonly strict: boolean
  /** Part of the compact dialect. */
  readonly compact: boolean
  /** What to write where a dialect refuses it. */
  readonly instead?: string
}

/** Groups of Table 4 that the interpreter asks for by name. */
export const Group = {
  once: 0,
  motion: 1,
  plane: 2,
  distance: 3,
  arcDistance: 4,
  feedMode: 5,
  units: 6,
  radius: 7,
  length: 8,
  retract: 10,
  offset: 12,
  path: 13,
  stop: 104,
  change: 106,
  spindle: 107,
  coolant: 108,
  overrides: 109,
  calls: 110,
} as const

type Row = [codes: string, group: number, dialects: string, section: string, title: string, instead?: string]

/** Dialects: s = the standard alone, c = compact; every row is read in the default dialect. */
const ROWS: readonly Row[] = [
  ['G0', Group.motion, 'sc', '3.5.1', 'rapid move, for positioning in the air'],
  ['G1', Group.motion, 'sc', '3.5.2', 'straight cut at the feed'],
  ['G2', Group.motion, 'sc', '3.5.3', 'clockwise arc or helix at the feed'],
  ['G3', Group.motion, 'sc', '3.5.3', 'counter-clockwise arc or helix at the feed'],
  ['G4', Group.once, 'sc', '3.5.4', 'dwell for P seconds'],
  ['G10', Group.once, 'sc', '3.5.5', 'set the origin of a work offset'],
  ['G17', Group.plane, 'sc', '3.5.6', 'arcs lie in XY'],
  ['G18', Group.plane, 'sc', '3.5.6', 'arcs lie in ZX'],
  ['G19', Group.plane, 'sc', '3.5.6', 'arcs lie in YZ'],
  ['G20', Group.units, 'sc', '3.5.7', 'lengths are inches'],
  ['G21', Group.units, 'sc', '3.5.7', 'lengths are millimetres'],
  ['G28 G30', Group.once, 'sc', '3.5.8', 'go to a stored position of the machine'],
  ['G28.1 G30.1', Group.once, 'c-', '', 'store where the machine is now'],
  ['G38.2', Group.motion, 'sc', '3.5.9', 'straight probe until contact'],
  ['G38.3 G38.4 G38.5', Group.motion, 'c-', '', 'straight probe until contact changes'],
  ['G40', Group.radius, 'sc', '3.5.10', 'cutter radius compensation off'],
  ['G41', Group.radius, 's', '3.5.10', 'cutter kept left of the path', 'the path of the bit’s centre itself'],
  ['G42', Group.radius, 's', '3.5.10', 'cutter kept right of the path', 'the path of the bit’s centre itself'],
  ['G43', Group.length, 's', '3.5.11', 'length of the bit taken from the table', 'a Z zero taken with this bit'],
  ['G43.1', Group.length, 'c-', '', 'length of the bit given on the line'],
  ['G49', Group.length, 'sc', '3.5.11', 'no length of the bit taken into account'],
  ['G53', Group.once, 'sc', '3.5.12', 'this move is in machine coordinates'],
  ['G54 G55 G56 G57 G58 G59', Group.offset, 'sc', '3.5.13', 'work offset'],
  ['G59.1 G59.2 G59.3', Group.offset, 's', '3.5.13', 'work offset', 'one of G54 to G59'],
  ['G61', Group.path, 'sc', '3.5.14', 'keep exactly to the path'],
  ['G61.1', Group.path, 's', '3.5.14', 'stop exactly at each end', 'G61'],
  ['G64', Group.path, 's', '3.5.14', 'corners may be rounded to keep the speed', 'nothing: leave it out'],
  ['G80', Group.motion, 'sc', '3.5.15', 'end of a drilling cycle'],
  ['G81', Group.motion, 's', '3.5.16', 'drill', 'the moves themselves: G0 down to R, G1 to the depth, G0 up'],
  ['G82', Group.motion, 's', '3.5.16', 'drill and dwell', 'the moves themselves: G0, G1, G4, G0'],
  ['G83', Group.motion, 's', '3.5.16', 'drill in pecks', 'the pecks themselves as G1 and G0 moves'],
  ['G84', Group.motion, 's', '3.5.16', 'tap', 'the moves themselves'],
  ['G85', Group.motion, 's', '3.5.16', 'bore, feed out', 'the moves themselves: G1 down, G1 up'],
  ['G86', Group.motion, 's', '3.5.16', 'bore, stop, rapid out', 'the moves themselves'],
  ['G87', Group.motion, 's', '3.5.16', 'back boring', 'the moves themselves'],
  ['G88', Group.motion, 's', '3.5.16', 'bore, stop, out by hand', 'the moves themselves'],
  ['G89', Group.motion, 's', '3.5.16', 'bore, dwell, feed out', 'the moves themselves: G1, G4, G1'],
  ['G90', Group.distance, 'sc', '3.5.17', 'coordinates are positions'],
  ['G91', Group.distance, 'sc', '3.5.17', 'coordinates are distances from where the bit is'],
  ['G90.1', Group.arcDistance, '-', '', 'I J K are positions', 'G91.1 and I J K from the start of the arc'],
  ['G91.1', Group.arcDistance, 'c-', '', 'I J K are distances from the start of the arc'],
  ['G92', Group.once, 'sc', '3.5.18', 'call the place where the bit is by these coordinates'],
  ['G92.1', Group.once, 'sc', '3.5.18', 'forget G92'],
  ['G92.2', Group.once, 's', '3.5.18', 'suspend G92', 'G92.1'],
  ['G92.3', Group.once, 's', '3.5.18', 'restore G92', 'the G92 line itself once more'],
  ['G93', Group.feedMode, 'sc', '3.5.19', 'F is one over the minutes a move takes'],
  ['G94', Group.feedMode, 'sc', '3.5.19', 'F is length a minute'],
  ['G98', Group.retract, 's', '3.5.20', 'cycles go back up to where they began', 'the moves themselves'],
  ['G99', Group.retract, 's', '3.5.20', 'cycles go back up to R only', 'the moves themselves'],
  ['M0', Group.stop, 'sc', '3.6.1', 'stop until told to go on'],
  ['M1', Group.stop, 'sc', '3.6.1', 'stop if the switch for it is on'],
  ['M2 M30', Group.stop, 'sc', '3.6.1', 'end of the program'],
  ['M60', Group.stop, 's', '3.6.1', 'change pallets and stop', 'M0'],
  ['M3', Group.spindle, 'sc', '3.6.2', 'spindle on, clockwise'],
  ['M4', Group.spindle, 'sc', '3.6.2', 'spindle on, counter-clockwise'],
  ['M5', Group.spindle, 'sc', '3.6.2', 'spindle off'],
  [
    'M6',
    Group.change,
    's',
    '3.6.3',
    'change to the bit chosen by T',
    'one program for each bit, or M0 and a change by hand',
  ],
  ['M7', Group.coolant, 'sc', '3.6.4', 'mist on'],
  ['M8', Group.coolant, 'sc', '3.6.4', 'flood on'],
  ['M9', Group.coolant, 'sc', '3.6.4', 'mist and flood off'],
  ['M48', Group.overrides, 's', '3.6.5', 'override knobs count', 'nothing: leave it out'],
  ['M49', Group.overrides, 's', '3.6.5', 'override knobs do not count', 'nothing: leave it out'],
  ['M98', Group.calls, '-', '', 'call the subprogram of number P', 'its lines themselves'],
  ['M99', Group.calls, '-', '', 'return from a subprogram', 'nothing: leave it out'],
]

/** Every code of the language, by its name. */
export const CODES: ReadonlyMap<string, CodeMeaning> = new Map(
  ROWS.flatMap(([codes, group, dialects, section, title, instead]) =>
    codes.split(' ').map((code): [string, CodeMeaning] => [
      code,
      {
        code,
        title,
        section: section || undefined,
        group,
        strict: dialects.includes('s'),
        compact: dialects.includes('c'),
        instead,
      },
    ]),
  ),
)

/** What each letter of NISTIR 6556, Table 3, carries. */
export const LETTERS: ReadonlyMap<string, string> = new Map([
  ['A', 'turn about X'],
  ['B', 'turn about Y'],
  ['C', 'turn about Z'],
  ['D', 'table entry whose radius compensation uses'],
  ['F', 'feed'],
  ['G', 'kind of move, or a setting'],
  ['H', 'table entry whose length G43 uses'],
  ['I', 'centre of the arc in X'],
  ['J', 'centre of the arc in Y'],
  ['K', 'centre of the arc in Z'],
  ['L', 'repeats'],
  ['M', 'machine function'],
  ['N', 'line number'],
  ['P', 'seconds of dwell, or a number that belongs to the code'],
  ['Q', 'depth of one peck'],
  ['R', 'radius of the arc, or clear height of a cycle'],
  ['S', 'spindle speed'],
  ['T', 'bit'],
  ['X', 'position to the right'],
  ['Y', 'position away'],
  ['Z', 'height'],
])

/** How to write the code of a letter and ten times its number: 592 with G gives G59.2. */
export function codeName(letter: string, tenths: number): string {
  return letter + (tenths % 10 === 0 ? String(tenths / 10) : (tenths / 10).toFixed(1))
}
