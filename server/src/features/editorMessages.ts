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
  /** The client listens to `treen/verdict`. */
  readonly verdicts?: boolean
  /** The client has the command `treen.openPreview`, which takes the URI of a program or a sheet. */
  readonly previews?: boolean
  /** The editor completes a sheet's fields and choices itself, by the JSON Schema that comes with the client. */
  readonly knowsSchema?: boolean
}
