import type { CodeAction, Connection, ServerCapabilities } from 'vscode-languageserver'
import * as ours from '../features/editorMessages.ts'
import type { EditorSession } from './editorSession.ts'
import { answers, handler } from './handling.ts'

export const rewritingCapabilities: ServerCapabilities = {
  documentFormattingProvider: true,
  documentRangeFormattingProvider: true,
}

/** Answers for what writes lines anew. */
export function registerRewriting(connection: Connection, at: () => EditorSession): void {
  connection.onCodeActionResolve(async (action, token): Promise<CodeAction> => {
    const resolve = handler<CodeAction, CodeAction>(connection, 'rewriting', action, (each, signal) =>
      at().resolveAction(each, signal),
    )
    const resolved = await resolve(action, token)
    return resolved instanceof Error ? action : resolved
  })
  connection.onDocumentFormatting(handler(connection, 'spacing', [], params => at().rewriting.format(params)))
  connection.onDocumentRangeFormatting(handler(connection, 'spacing', [], params => at().rewriting.formatRange(params)))
  answers<ours.ResumeParams, ours.ResumeResult>(
    connection,
    ours.resumeRequest,
    'starting again',
    { why: 'The program could not be written.' },
    (params, signal) => at().comparing.resume(params, signal),
  )
  answers<ours.WhatChangedParams, ours.WhatChangedResult>(
    connection,
    ours.whatChangedRequest,
    'comparing',
    { why: 'The two texts could not be compared.' },
    (params, signal) => at().comparing.whatChanged(params, signal),
  )
  answers<ours.RewriteParams, ours.RewriteResult>(
    connection,
    ours.rewriteRequest,
    'rewriting',
    { why: 'The lines could not be written anew.' },
    (params, signal) => at().rewriting.rewrite(params, signal),
  )
}
