import { Argument, Command, CommanderError, Option } from 'commander'
import packageJson from '../../../../package.json' with { type: 'json' }
import { stances, surfaces } from '../../features/preview/protocol.ts'
import { serveNode } from '../nodeServer.ts'
import { checkCommand, failLevels, formats } from './check.ts'
import { previewCommand } from './preview.ts'
import { schemaCommand, schemas } from './schema.ts'
import { sheetCommand } from './sheet.ts'
import { UsageError } from './usageError.ts'

const examples = `
Examples:
  treen check dish.jobsheet.json          the whole job, every set-up, every copy
  treen check cavity.nc                   one program, in the job whose sheet names it
  treen check . --fail-on warning         every job sheet and program of a folder
  treen check dish.jobsheet.json --format json > report.json
  treen preview dish.jobsheet.json --out dish.html
  treen sheet dish.jobsheet.json --out to-print.html

A program that passes can still be wrong for the machine in front of you: watch the first run
with a hand on the stop.`

const checkExamples = `
Exit codes: 0 nothing at or above the level, 1 findings, 2 bad use or a file that cannot be read.

Examples:
  treen check "trays/**/*.nc"             all that fits the pattern, where the shell does not fill it in
  treen check . --format lines            a line for each finding: FILE:LINE:COLUMN: SEVERITY: MESSAGE [CODE]
  treen check . --format sarif --fail-on warning > report.sarif
  treen check - --as cavity.nc < draft    the text of another program in the place of cavity.nc, in its job
  treen check . --fail-on never           only look; the exit code says nothing`

const previewExamples = `
Examples:
  treen preview dish.jobsheet.json --out dish.html
  treen preview cavity.nc --out dish.html      the first job whose sheet names the program
  treen preview dish.jobsheet.json --image dish.png --cut y=80
  treen preview dish.jobsheet.json --image back.png --view underside --at pocket --surface depth`

const sheetExamples = `
Examples:
  treen sheet dish.jobsheet.json --out to-print.html     then print it from any browser
  treen sheet trays --out to-print.html                  the job of a folder`

const schemaExamples = `
Examples:
  treen schema sheet > jobsheet.schema.json     what an editor without the extension completes and checks sheets by
  treen schema report > report.schema.json      what treen check --format json prints`

/** Runs `treen` with the arguments of a process and gives its exit code: 0, 1 or 2 by the contract. */
export async function runCommandLine(argv: readonly string[]): Promise<number> {
  let code = 0
  const program = new Command('treen')
    .description('Checks hand-edited G-code for bowls and inlays: the whole job, from rough blank to finished piece.')
    .version(packageJson.version)
    .addHelpText('after', examples)
    .exitOverride()
  program
    .command('check')
    .description('check programs and job sheets')
    .argument('<path...>', 'programs, job sheets, folders that hold them, patterns, or - for standard input')
    .addOption(new Option('--format <format>', 'how to print').choices(formats).default('text'))
    .addOption(
      new Option('--fail-on <level>', 'least severity that makes the exit code 1').choices(failLevels).default('error'),
    )
    .option('--as <file>', 'the file in whose place the text of standard input stands')
    .option('--no-fixes', 'leave the fixes out of json and sarif: each is tried in the whole job, which takes time')
    .addHelpText('after', checkExamples)
    .action(async (paths: string[], options) => {
      code = await checkCommand(paths, options)
    })
  program
    .command('preview')
    .description('write the preview as one page that needs nothing else, or as a picture')
    .argument('<path>', 'a job sheet or a program')
    .option('--out <page.html>', 'where to write the page')
    .option('--image <picture.png>', 'where to write a picture of it, drawn by a browser without a window')
    .addOption(new Option('--view <view>', 'which way up').choices(stances))
    .addOption(new Option('--surface <surface>', 'what its colours tell').choices(surfaces))
    .option('--at <set-up>', 'at the end of that set-up; default: of the job')
    .option('--cut <place>', 'cut open at a place, in mm: x=120 or y=80')
    .option('--size <size>', 'of the picture, in pixels', '1280x800')
    .addOption(new Option('--scheme <scheme>', 'colours of the page').choices(['light', 'dark']).default('light'))
    .addHelpText('after', previewExamples)
    .action(async (path: string, options) => {
      await previewCommand(path, options)
    })
  program
    .command('sheet')
    .description('write the set-up sheet: a page to print for each set-up')
    .argument('<path>', 'a job sheet, or a program of one')
    .requiredOption('--out <page.html>', 'where to write the page')
    .addHelpText('after', sheetExamples)
    .action(async (path: string, options) => {
      await sheetCommand(path, options)
    })
  program
    .command('schema')
    .description('print the JSON Schema of a job sheet or of the JSON report')
    .addArgument(new Argument('<of>', 'what to describe').choices(schemas))
    .addHelpText('after', schemaExamples)
    .action(async (of: (typeof schemas)[number]) => {
      await schemaCommand(of)
    })
  program
    .command('language-server')
    .description('serve any editor that speaks the Language Server Protocol 3.17')
    .requiredOption('--stdio', 'over standard input and output')
    .action(() => {
      serveNode()
    })
  try {
    await program.parseAsync(argv)
  } catch (error) {
    if (error instanceof UsageError) {
      process.stderr.write(`treen: ${error.message}\n`)
      return 2
    }
    // commander has printed its own line; help and version are no mistakes.
    if (error instanceof CommanderError) return error.exitCode === 0 ? 0 : 2
    throw error
  }
  return code
}
