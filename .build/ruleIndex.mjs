// Writes the index of the rules, server/src/rules/README.md, from the rules themselves and their pages; with --check it
// writes nothing and fails where the index is stale.
import { readFileSync, writeFileSync } from 'node:fs'
import { dirname, join } from 'node:path'
import { fileURLToPath } from 'node:url'
import { build } from 'esbuild'

const root = dirname(dirname(fileURLToPath(import.meta.url)))
const rules = join(root, 'server/src/rules')
const index = join(rules, 'README.md')

async function allRules() {
  const made = await build({
    entryPoints: [join(rules, 'all.ts')],
    bundle: true,
    write: false,
    format: 'esm',
    platform: 'node',
    mainFields: ['module', 'main'],
    logLevel: 'warning',
    // What packages of the older kind ask for.
    banner: { js: "import { createRequire } from 'node:module'; const require = createRequire('file:///')" },
  })
  const code = Buffer.from(made.outputFiles[0].contents).toString('base64')
  return (await import(`data:text/javascript;base64,${code}`)).ALL_RULES
}

function rowOf(rule) {
  const page = readFileSync(join(rules, `${rule.id}.md`), 'utf8')
  const [, source = ''] = /^## Source\n\n([\s\S]*?)\n\n/m.exec(page) ?? []
  const fixable = rule.fix ? 'yes' : ''
  const cells = [`[${rule.id}](${rule.id}.md)`, rule.severity, rule.title, fixable, source.replaceAll('\n', ' ')]
  return `| ${cells.map(cell => cell.replaceAll('|', '\\|')).join(' | ')} |`
}

/** What a rule reads, and where to read on. */
const READS = {
  text: 'Of the text alone: on every program.',
  run: 'Of the wood: on a program whose blank is declared, by a sheet or in its comments.',
  job: 'Of the whole job.',
  sheet: 'Of the job sheet.',
  allowances: 'Of the comments that silence findings.',
}

function indexOf(all) {
  const parts = Object.entries(READS).map(([reads, title]) => {
    const rows = all.filter(rule => rule.reads === reads).sort((a, b) => (a.id < b.id ? -1 : 1))
    return [
      `## ${title}`,
      '',
      '| code | severity | what it says | fix offered | source |',
      '| --- | --- | --- | --- | --- |',
      ...rows.map(rowOf),
      '',
    ].join('\n')
  })
  return [
    '# What is looked for',
    '',
    `${all.length} rules, each with its page: what it means at the machine, an example and the same mended, how the number is reckoned, its source, how to silence it. The examples are run as tests; those of a whole job change lines of the [example dish](example-dish.md). Made by \`node .build/ruleIndex.mjs\` from the rules and their pages: change those, not this.`,
    '',
    ...parts,
  ].join('\n')
}

const text = indexOf(await allRules())
if (process.argv.includes('--check')) {
  if (readFileSync(index, 'utf8') !== text) {
    console.error('server/src/rules/README.md is stale: run node .build/ruleIndex.mjs')
    process.exitCode = 1
  }
} else writeFileSync(index, text)
