import type { Range } from '../syntax/source.ts'
import type { Insertable } from './insert/insertOperation.ts'

/**
 * What client and server say to each other beside LSP. Names begin with `treen/`, so that any other client may leave
 * them unanswered: nothing that LSP can say goes through here.
 */

/** Server to client: the bytes of a file that only the editor can reach. */
export const readFileRequest = 'treen/readFile'
export interface ReadFileParams {
  readonly uri: string
}
/** Base64: a byte array does not cross every channel as one. null where there is no such file. */
export type ReadFileResult = string | null

/** Server to client: names of the files of a folder. */
export const listFolderRequest = 'treen/listFolder'
export interface ListFolderParams {
  readonly uri: string
}
export type ListFolderResult = readonly string[]

/** Client to server: what the preview shows for a program or a sheet. */
export const previewRequest = 'treen/preview'
export interface PreviewParams {
  readonly uri: string
  readonly copy: string
}
/** The job as `jobToText` writes it, or why there is none, in plain words. */
export type PreviewResult = { readonly job: string } | { readonly why: string }

/** Client to server: the set-up sheet of the job that a program or a sheet belongs to. */
export const setupSheetRequest = 'treen/setupSheet'
export interface SetupSheetParams {
  readonly uri: string
  /** Unguessable: only the style that carries it applies. */
  readonly nonce: string
}
/** The page as HTML, or why there is none, in plain words. */
export type SetupSheetResult = { readonly page: string } | { readonly why: string }

/** Client to server: the text with which a job sheet may begin, for one program or for all those of a folder. */
export const beginSheetRequest = 'treen/beginSheet'
export type BeginSheetParams = { readonly program: string } | { readonly folder: string }
export interface BeginSheetResult {
  /** URI beside the programs; there may be a sheet of that name already. */
  readonly uri: string
  readonly text: string
}

/** Client to server: a check of many files, whether they are open or not, as a build does it. */
export const checkFilesRequest = 'treen/checkFiles'
export interface CheckFilesParams {
  readonly uris: readonly string[]
  /** The report names files relative to this folder. */
  readonly folder: string
}
export interface CheckFilesResult {
  /** A line for each finding: `FILE:LINE:COLUMN: SEVERITY: MESSAGE [CODE]`. */
  readonly report: string
  readonly errors: number
  readonly findings: number
}

/** Client to server: one of the rewrites of the catalogue over lines of an open program; all of it without a range. */
export const rewriteRequest = 'treen/rewrite'
export interface RewriteParams {
  readonly uri: string
  readonly range?: Range
  readonly rewrite: string
  /** To its question, as it was written; '' where it asks nothing. */
  readonly answer: string
}
/** Edits of the text in that version, with what a person should know of them; or why nothing is done. */
export type RewriteResult =
  | {
      readonly version: number
      readonly edits: readonly { range: Range; newText: string }[]
      readonly notes: readonly string[]
    }
  | { readonly why: string }

/** Client to server: what may be inserted before a line of a program, with its numbers reckoned from the job. */
export const operationsRequest = 'treen/operations'
export interface OperationsParams {
  readonly uri: string
  readonly line: number
}
/** What may be chosen, or why nothing can be inserted there, in plain words. */
export type OperationsResult = { readonly operations: readonly Insertable[] } | { readonly why: string }

/** Client to server: the lines of one of them. */
export const operationRequest = 'treen/operation'
export interface OperationParams extends OperationsParams {
  readonly id: string
  /** In the program's units, by the name of the parameter; what is left out is as reckoned. */
  readonly values?: Readonly<Record<string, number>>
}
export interface InsertedOperation {
  /** Whole lines, to be put before the line asked for. */
  readonly text: string
  /** What the job's check would find in it that it does not find now, in plain words; mostly nothing. */
  readonly raises: readonly string[]
}
export type OperationResult = InsertedOperation | { readonly why: string }

/** Client to server: a program that starts again from a line (0-based) of an open one. */
export const resumeRequest = 'treen/resume'
export interface ResumeParams {
  readonly uri: string
  readonly line: number
}
export type ResumeResult = { readonly text: string; readonly notes: readonly string[] } | { readonly why: string }

/** Client to server: what an open program cuts otherwise than another text of it. */
export const whatChangedRequest = 'treen/whatChanged'
export interface WhatChangedParams {
  readonly uri: string
  readonly before: string
  /** What the other text is, for the page: `the saved text`. */
  readonly since: string
}
/** A page in Markdown and, for who goes on with it, each place in mm, blank frame; or why there is none. */
export type WhatChangedResult =
  | {
      readonly page: string
      readonly places: readonly {
        readonly setup: string
        readonly copy: string
        readonly way: 'more' | 'less'
        readonly volume: number
        readonly deepest: number
        readonly box: readonly [readonly [number, number], readonly [number, number]]
      }[]
    }
  | { readonly why: string }

/** Server to client: how the job of an open text stands. */
export const verdictNotification = 'treen/verdict'
export interface Verdict {
  /** URI of the open program or sheet. */
  readonly uri: string
  readonly state: 'checking' | 'clean' | 'findings' | 'text-only'
  readonly errors: number
  readonly warnings: number
  /** One line for a status bar. */
  readonly line: string
  /** A few lines more, for who asks: the job's figures, or the program's extents. */
  readonly details: readonly string[]
}

/** What our client tells the server at the start; other clients may leave all of it out. */
export interface InitializationOptions {
  /**
   * Where the rules' pages are: an address in which `{code}` stands for the code, escaped as in a URI's query. Without
   * it, the files beside the server.
   */
  readonly rulePages?: string
  /** The client answers `treen/readFile` and `treen/listFolder`. */
  readonly clientFiles?: boolean
  /** The client has the command `treen.rewrite`, which asks what a rewrite needs to know. */
  readonly asks?: boolean
  /** The client listens to `treen/verdict`. */
  readonly verdicts?: boolean
  /** The client has the command `treen.openPreview`, which takes the URI of a program or a sheet. */
  readonly previews?: boolean
  /** The editor completes a sheet's fields and choices itself, by the JSON Schema that comes with the client. */
  readonly knowsSchema?: boolean
}
