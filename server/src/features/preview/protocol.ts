import type { CopyFigures, Fit } from '../../job/outcome.ts'
import type { Blank, KeepOut, Limits, ProgramSetup } from '../../job/sheet.ts'
import type { Motions, Operation } from '../../machine/motions.ts'
import type { Severity } from '../../rules/rule.ts'
import type { Bit } from '../../stock/bit.ts'
import type { Lie } from '../../stock/lie.ts'
import type { Range } from '../../syntax/source.ts'

/**
 * All that the preview needs to carve one copy of a job again by itself, with the same kernel: plain objects and typed
 * arrays, so that it crosses to a webview or a worker by structured clone, and into a self-contained page by the
 * packing beside this file.
 */
export interface PreviewJob {
  readonly title: string
  /** URI of the sheet; undefined where the program declared its own blank, or none. */
  readonly sheet?: string
  readonly copy: string
  readonly copies: readonly string[]
  readonly blanks: readonly (Omit<Blank, 'copies'> & { readonly thickness: number })[]
  /** Side of a cell, mm: the same as the check's. */
  readonly cell: number
  readonly setups: readonly PreviewSetup[]
  readonly limits: Limits
  readonly figures: PreviewFigures
  /** Those of every copy, in the sheet's order, to be laid side by side; the one shown is among them. */
  readonly figuresOfCopies: readonly {
    readonly copy: string
    readonly thickness: number
    readonly figures: PreviewFigures
    /** How many findings are true of it. */
    readonly found: number
  }[]
  readonly findings: readonly PreviewFinding[]
  /** What holds the blank down: boxes that no bit may enter. */
  readonly keepOut: readonly KeepOut[]
  /** The walls of plug and pocket where they meet; undefined where nothing is let in, or the fit is not known. */
  readonly joint?: Joint
}

/** Without what the fit was worked out from, which is many numbers. */
export type PreviewFigures = Omit<CopyFigures, 'fit'> & { readonly fit?: Omit<Fit, 'plug'> }

export interface Joint {
  /** Outlines of the plug where it sits: x, y, x, y, ... blank frame; only of one whose walls stand upright. */
  readonly plug: readonly Float64Array[]
  /** The gap along the pocket's wall: x, y, gap, x, y, gap, ... each at a height, blank frame. */
  readonly gaps: readonly { readonly z: number; readonly points: Float64Array }[]
}

export type PreviewSetup = { readonly name: string; readonly blank: string } & (
  | {
      readonly kind: 'program'
      readonly makes: ProgramSetup['makes']
      /** URI. */
      readonly program: string
      readonly lie: Lie
      /** Added to motions to get the frame of the stock as it lies. */
      readonly shift: readonly [number, number, number]
      readonly motions: Motions
      /** The bits of this program; `bitOfState` indexes it, -1 where none is known. */
      readonly bits: readonly Bit[]
      readonly bitOfState: Int16Array
      /** Feed in force in each state, mm/min, NaN where none; for the clock of the preview. */
      readonly feedOfState: Float64Array
      /** Speed of the spindle in each state, rev/min, NaN where it stands or is not known. */
      readonly speedOfState: Float64Array
      /** Depth and width of what each motion cuts, mm; 0 in the air. */
      readonly axial: Float32Array
      readonly radial: Float32Array
      /** Height of the face when the set-up begins, frame of the stock as it lies. */
      readonly faceLevel: number
      readonly operations: readonly Operation[]
    }
  | {
      /** A plug or resin set into a pocket: which columns of the blank's grid become solid, and from where to where. */
      readonly kind: 'insert'
      readonly of: 'plug' | 'resin'
      readonly material: string
      /** Cell indices of the blank frame's grid, heights in the blank frame. */
      readonly cells: Uint32Array
      readonly lo: Float32Array
      readonly hi: Float32Array
      /** Thickness of the glue under its buried face, which is part of what fills the columns, mm. */
      readonly film: number
    }
  | {
      /** Everything on the far side of the cut is taken away. */
      readonly kind: 'saw'
      readonly face: 'top' | 'underside'
      /** Height of the cut, blank frame. */
      readonly at: number
    }
  | { readonly kind: 'hand'; readonly roundOver: number }
)

export interface PreviewFinding {
  readonly code: string
  readonly severity: Severity
  readonly message: string
  readonly file: string
  readonly range: Range
  readonly setup?: string
}

/** Which way up the piece is looked at. */
export const stances = ['machine', 'top', 'underside', 'hand'] as const
/** What the colours of its surface tell. */
export const surfaces = ['wood', 'depth', 'thickness', 'left', 'gap', 'changed'] as const

/** A plane that cuts the blank: at right angles to `axis`, at that place of it, mm, blank frame. */
export interface SectionPlane {
  readonly axis: 'x' | 'y'
  readonly at: number
}

/** How a page is first looked at. */
export interface ChosenView {
  readonly stance?: (typeof stances)[number]
  readonly surface?: (typeof surfaces)[number]
  /** Name of a set-up: its end. */
  readonly setup?: string
  readonly motion?: number
  readonly plane?: SectionPlane
}

/** From the editor (or the page's own data) to the preview. */
export type ToPreview =
  | { readonly type: 'job'; readonly job: PreviewJob }
  /** The same as `jobToText` writes it, for ways that carry only text. */
  | { readonly type: 'packed'; readonly job: string }
  /** Nothing to show, and why, in plain words. */
  | { readonly type: 'nothing'; readonly why: string }
  /** The caret went to a line of a program: show the bit there. */
  | { readonly type: 'caret'; readonly program: string; readonly line: number }
  /** The preview asked for something that could not be had. */
  | { readonly type: 'failed'; readonly why: string }

/** From the preview to the editor. */
export type FromPreview =
  /** The page runs and listens; nothing is sent before. */
  | { readonly type: 'ready' }
  /** The user chose a place on the path: select that line, without taking the focus. */
  | { readonly type: 'line'; readonly program: string; readonly line: number }
  | { readonly type: 'copy'; readonly copy: string }
  /** Something went wrong in the page; for the log. */
  | { readonly type: 'trouble'; readonly message: string }
