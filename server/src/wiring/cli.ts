import { join } from 'node:path'
import { carveWithThreads } from './bandThread.ts'
import { runCommandLine } from './cli/commandLine.ts'

carveWithThreads(join(__dirname, 'bandThread.cjs'))

runCommandLine(process.argv).then(
  code => {
    process.exitCode = code
  },
  (error: unknown) => {
    // Nothing that a file holds leads here: this is a fault of ours, and the stack is what a report needs.
    process.stderr.write(`treen: a fault in treen itself: ${error instanceof Error ? error.stack : String(error)}\n`)
    process.exitCode = 2
  },
)
