import { commands, l10n, window } from 'vscode'
import {
  CloseAction,
  type CloseHandlerResult,
  ErrorAction,
  type ErrorHandler,
  type ErrorHandlerResult,
} from 'vscode-languageclient'

/** Ends within this time count together. */
const WINDOW = 10 * 60_000
/** A server that ends again and again before any check is done cannot do this one: more trials only burn power. */
const MOST_IDLE = 4
/** One that does its work in between may end as often as this, from whatever cause outside. */
const MOST_AT_WORK = 40

/**
 * Starts the server again whenever it ends unasked: the editor has the texts, and hands them over anew. Only one that
 * ends without having checked anything, or without end, is left alone, with a word about it.
 */
export class Restarts implements ErrorHandler {
  #ends: { readonly at: number; readonly idle: boolean }[] = []
  #idle = true

  /** A check was done: the server is well. */
  works(): void {
    this.#idle = false
  }

  error(): ErrorHandlerResult {
    // A message that could not be read or sent says nothing of the next; a connection that is gone is told as closed.
    return { action: ErrorAction.Continue, handled: true }
  }

  closed(now = Date.now()): CloseHandlerResult {
    this.#ends = [...this.#ends.filter(({ at }) => now - at < WINDOW), { at: now, idle: this.#idle }]
    this.#idle = true
    let idleLately = 0
    while (idleLately < this.#ends.length && this.#ends[this.#ends.length - 1 - idleLately].idle) idleLately++
    if (idleLately <= MOST_IDLE && this.#ends.length <= MOST_AT_WORK) {
      return { action: CloseAction.Restart, handled: true }
    }
    this.#ends = []
    void giveUp()
    return { action: CloseAction.DoNotRestart, handled: true }
  }
}

async function giveUp(): Promise<void> {
  const again = l10n.t('Start It Again')
  const message = l10n.t(
    'The part of Treen that checks has stopped again and again, and stays off. Your texts are safe.',
  )
  if ((await window.showErrorMessage(message, again)) === again) await commands.executeCommand('treen.restartServer')
}
