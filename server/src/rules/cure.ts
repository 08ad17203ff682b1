/**
 * Ways to do away with a finding, where one is safe. A rule names its own; what is done is known where programs are
 * written (`features/fixes`), and is tried in the whole job before anybody is offered it.
 */
export type Cure =
  /** A feed or a speed by the ratio of what was found and what is allowed. */
  | 'rate'
  /** A speed at its limit. */
  | 'speed'
  /** A feed of its own for a way down. */
  | 'plunge-feed'
  /** A feed where none is in force. */
  | 'missing-feed'
  /** A speed with the start of the spindle. */
  | 'missing-speed'
  | 'spindle-on'
  /** The last part of a rapid down as a cutting move. */
  | 'cutting-move'
  /** Down along the next move and back, or in a helix. */
  | 'ramp'
  /** Up before a rapid, and down after it. */
  | 'lift'
  /** A height word raised to its limit. */
  | 'higher'
  /** Up before the first move sideways. */
  | 'first-lift'
  /** No word lower than the limit. */
  | 'shallower'
  /** A level one step of the others below the one before it. */
  | 'usual-step'
  /** A pass split into levels. */
  | 'levels'
  /** The last level at the height where a figure of the job comes to its limit. */
  | 'last-level'
  /** A number of the sheet: a thicker blank, another saw cut. */
  | 'sheet-number'
  /** One of the bits that are declared: which of them only the maker knows. */
  | 'which-bit'
  /** A program turned over. */
  | 'mirror'
  /** A name of the sheet that was most likely meant. */
  | 'name'
  | 'units'
  | 'end'
  /** A number with a slip of the hand in it. */
  | 'number'
  | 'bracket'
  /** One of two words of the same letter taken away: which of them only the maker knows. */
  | 'one-word'
  /** Words of people put in brackets. */
  | 'remark'
  /** A code that the machine does not know left out, or the one written that it knows for it. */
  | 'instead'
  /** The centre of an arc as far from both ends. */
  | 'centre'
  /** A radius that reaches from end to end. */
  | 'radius'
  /** A comment that silences nothing is taken away. */
  | 'allowance'
