import type { Problem } from '../syntax/problem.ts'
import type { TextSpan } from '../syntax/source.ts'
import type { ModalState, Motions, Operation, ProgramEvent } from './motions.ts'

/** One program read and run: everything that can be said of it without knowing the wood. */
export interface Program {
  readonly lineCount: number
  /** The text of a line without its line end; '' past the end. */
  lineText(line: number): string
  readonly motions: Motions
  readonly states: readonly ModalState[]
  readonly events: readonly ProgramEvent[]
  readonly operations: readonly Operation[]
  /** All that is wrong with the text and with its modal state, in the order of the text. */
  readonly problems: readonly Problem[]
  readonly comments: readonly Comment[]
  /** Words that change the path in a way that is not modelled; rules that need the path are withheld. */
  readonly notSimulated: readonly { readonly span: TextSpan; readonly why: string }[]
  /** Words for another kind of machine were seen (`program/printer`): nothing else is said of the program. */
  readonly forPrinter: boolean
  /** The words of a line, for hovers and for findings that point at one of them. */
  wordsOf(line: number): readonly Word[]
  /** The calls that led to a motion, innermost last; empty outside subprograms. */
  callTrail(motion: number): readonly TextSpan[]
}

/** One word as it stands in the text. */
export interface Word {
  /** Upper case. */
  readonly letter: string
  /** NaN where the value is an expression or could not be read. */
  readonly value: number
  readonly span: TextSpan
}

export interface Comment {
  readonly span: TextSpan
  /** Without its brackets or semicolon, trimmed. */
  readonly text: string
  /** Nothing but blanks, a line number and this comment on the line. */
  readonly alone: boolean
}
