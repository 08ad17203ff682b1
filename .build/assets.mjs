// What the product ships beside its scripts: the pages of the rules and the descriptions of its files.
import { copyFileSync, mkdirSync, readdirSync, readFileSync, writeFileSync } from 'node:fs'
import { dirname, join } from 'node:path'
import { build } from 'esbuild'

/**
 * Copies the page of each rule to `dist/rules/FAMILY/NAME.md`, where editors open it without a network, and beside the
 * families what the pages lead to: the index and the example dish.
 */
export function copyRulePages(root, dist) {
  const rules = join(root, 'server/src/rules')
  for (const name of readdirSync(rules, { recursive: true })) {
    if (!name.endsWith('.md')) continue
    mkdirSync(join(dist, 'rules', dirname(name)), { recursive: true })
    copyFileSync(join(rules, name), join(dist, 'rules', name))
  }
}

/** Writes the JSON Schemas of a job sheet and of the JSON report, made from the sources that the product itself uses. */
export async function writeSchemas(root, dist) {
  const { sheetJsonSchema } = await moduleOf(join(root, 'server/src/job/schema.ts'))
  writeFileSync(join(dist, 'jobsheet.schema.json'), JSON.stringify(sheetJsonSchema()))
  const { reportJsonSchema } = await moduleOf(join(root, 'server/src/wiring/cli/reportSchema.ts'))
  writeFileSync(join(dist, 'report.schema.json'), JSON.stringify(reportJsonSchema()))
}

/**
 * Writes the sample jobs as one file, since an extension on the web cannot list its folders; beside them one that has
 * a single slip, for which a fix is offered.
 */
export function writeSamples(root, dist) {
  const samples = {}
  for (const folder of ['fern-dish-first-draft', 'fern-dish', 'crescent-tray', 'single-program']) {
    samples[folder] = {}
    for (const name of readdirSync(join(root, 'samples', folder)).sort()) {
      // What tests read is of no use to a maker.
      if (name !== 'expected.json') samples[folder][name] = readFileSync(join(root, 'samples', folder, name), 'utf8')
    }
  }
  const { 'fern-dish.jobsheet.json': sheet, 'cavity.nc': cavity, ...others } = samples['fern-dish']
  const slipped = cavity.replace(/ Z-18$/m, ' Z-19.05')
  if (slipped === cavity) throw new Error('The fern dish no longer goes to Z-18: its slip needs another place')
  samples['fern-dish-one-slip'] = {
    ...others,
    'cavity.nc': slipped,
    'fern-dish-one-slip.jobsheet.json': sheet,
    'README.md': [
      '# Fern dish, one slip',
      '',
      'The fern dish, but its cavity goes to Z-19.05 where it should go to Z-18: the floor comes out too thin. With the',
      'caret on that word, ask for a quick fix.',
      '',
    ].join('\n'),
  }
  writeFileSync(join(dist, 'samples.json'), JSON.stringify(samples))
}

async function moduleOf(entry) {
  const made = await build({
    entryPoints: [entry],
    bundle: true,
    write: false,
    format: 'esm',
    platform: 'node',
    logLevel: 'warning',
  })
  return import(`data:text/javascript;base64,${Buffer.from(made.outputFiles[0].contents).toString('base64')}`)
}
