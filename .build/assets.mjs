// What the product ships beside its scripts: the pages of the rules and the descriptions of its files.
import { copyFileSync, mkdirSync, readdirSync, writeFileSync } from 'node:fs'
import { dirname, join } from 'node:path'
import { build } from 'esbuild'

/** Copies the page of each rule to `dist/rules/FAMILY/NAME.md`, where editors open it without a network. */
export function copyRulePages(root, dist) {
  const rules = join(root, 'server/src/rules')
  for (const name of readdirSync(rules, { recursive: true })) {
    if (!name.endsWith('.md') || dirname(name) === '.') continue
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
