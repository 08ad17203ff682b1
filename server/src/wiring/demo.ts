import { mkdir } from 'node:fs/promises'
import { join, relative } from 'node:path'
import { checkUris } from '../features/check.ts'
import { plainSettings } from './cli/check.ts'
import { terminalColors as pc } from './cli/colors.ts'
import { digestOf, joined } from './cli/digest.ts'
import { nameOf, urisOf } from './cli/paths.ts'
import { writePreview } from './cli/preview.ts'
import { reportOf } from './cli/report.ts'
import { textReport } from './cli/textReport.ts'
import { diskWorkspace } from './diskWorkspace.ts'

/** The sample jobs, the clean ones first, so that the draft's findings stand last and in sight. */
const samples: readonly { readonly folder: string; readonly what: string }[] = [
  { folder: 'single-program', what: 'one program that declares its own blank and bit in comments' },
  { folder: 'crescent-tray', what: 'resin in cherry, programs in inches, two copies of different thickness' },
  { folder: 'fern-dish', what: 'a walnut fern through a maple dish: five programs, good work' },
  { folder: 'fern-dish-first-draft', what: 'the same dish as first written, with its mistakes' },
]

async function demo(): Promise<void> {
  const root = join(__dirname, '..')
  const pages = join(__dirname, 'demo')
  await mkdir(pages, { recursive: true })
  const written: string[] = []
  for (const { folder, what } of samples) {
    const path = join(root, 'samples', folder)
    process.stdout.write(`\n${pc.inverse(` ${folder} `)} ${what}\n`)
    const { checks } = await checkUris(diskWorkspace, await urisOf([path]), plainSettings)
    const digest = joined(checks.map(checked => digestOf(checked, new Map())))
    process.stdout.write(textReport(reportOf(digest, nameOf), pc))
    const page = join(pages, `${folder}.html`)
    await writePreview(checks, path, page)
    written.push(relative(process.cwd(), page))
  }
  process.stdout.write(`
${pc.bold('What to look at next')}
  The pieces themselves, carved from the same toolpaths; open in any browser:
${written.map(page => `    ${page}`).join('\n')}
  Change a depth in samples/fern-dish/cavity.nc and check it again:
    npx treen check samples/fern-dish
  The mistakes planted in the first draft, one by one: samples/fern-dish-first-draft/README.md
  In the editor: open this folder and press F5.
`)
}

demo().catch((error: unknown) => {
  process.stderr.write(`demo: ${error instanceof Error ? error.message : String(error)}\n`)
  process.exitCode = 1
})
