import { existsSync } from 'node:fs'
import { dirname, join } from 'node:path'
import { pathToFileURL } from 'node:url'
import { type Row, table } from './harness.ts'

/** Each is a file beside this one with a function `rows`. */
const SECTIONS = ['language', 'time', 'stock', 'job', 'preview']

interface Section {
  rows(): Promise<readonly Row[]>
}

/**
 * `npm run bench`: measures section after section and prints the table; `-- --json` prints the rows as an array;
 * `-- --only language` runs one section. What is not met is said in the table; only a crash is a failure.
 */
async function main(options: readonly string[]): Promise<void> {
  const only = options.includes('--only') ? options[options.indexOf('--only') + 1] : undefined
  const here = dirname(process.argv[1])
  const rows: Row[] = []
  for (const name of SECTIONS) {
    const bundle = join(here, `${name}.cjs`)
    if ((only !== undefined && only !== name) || !existsSync(bundle)) continue
    const section = (await import(pathToFileURL(bundle).href)) as Section
    rows.push(...(await section.rows()))
  }
  if (options.includes('--json')) console.log(JSON.stringify(rows, undefined, 2))
  else console.log(table(rows))
}

void main(process.argv.slice(2))
