import { Console } from 'node:console'
import {
  type Connection,
  createConnection,
  ErrorCodes,
  type Message,
  ProposedFeatures,
  StreamMessageReader,
  StreamMessageWriter,
} from 'vscode-languageserver/node'
import type { Lifecycle } from './lifecycle.ts'

/**
 * Standard input and output as a connection. The process ends with its input. A message that is no JSON is answered so
 * and skipped; where the length of a message is not told rightly nobody can tell any more where the next begins, and
 * the process ends as well, with a line about it: a client starts it again, where a deaf server would let it wait.
 */
export function stdioConnection(lifecycle: Lifecycle): Connection {
  const reader = new StreamMessageReader(process.stdin)
  const writer = new StreamMessageWriter(process.stdout)
  const end = () => process.exit(lifecycle.over ? 0 : 1)
  process.stdin.on('end', end)
  process.stdin.on('close', end)
  // Nobody is left to answer.
  writer.onError(end)
  // What packages print would stand between the messages.
  globalThis.console = new Console(process.stderr)
  reader.onError(error => {
    if (error instanceof SyntaxError) {
      const message = `The message is no JSON: ${error.message}`
      const answer = { jsonrpc: '2.0', id: null, error: { code: ErrorCodes.ParseError, message } }
      void writer.write(answer as Message)
    } else {
      process.stderr.write(`treen: the client's messages cannot be told apart: ${error.message.split('\n')[0]}\n`)
      end()
    }
  })
  return createConnection(ProposedFeatures.all, reader, writer, { messageStrategy: lifecycle })
}
