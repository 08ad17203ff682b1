// What the product ships beside its scripts: the pages of the rules and the description of a job sheet.
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

/** Writes the JSON Schema of a job sheet, made from the same source as the types. */
export async function writeSheetSchema(root, dist) {
  const made = await build({
    entryPoints: [join(root, 'server/src/job/schema.ts')],
    bundle: true,
    write: false,
    format: 'esm',
    platform: 'node',
    logLevel: 'warning',
  })
  const source = Buffer.from(made.outputFiles[0].contents).toString('base64')
  const { sheetJsonSchema } = await import(`data:text/javascript;base64,${source}`)
  writeFileSync(join(dist, 'jobsheet.schema.json'), JSON.stringify(sheetJsonSchema()))
}
