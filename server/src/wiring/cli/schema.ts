import { readFile } from 'node:fs/promises'
import { join } from 'node:path'
import { print } from './print.ts'

export const schemas = ['sheet', 'report'] as const

const files: Record<(typeof schemas)[number], string> = { sheet: 'jobsheet.schema.json', report: 'report.schema.json' }

/** `treen schema`: prints a description that the build has made of the sources. */
export async function schemaCommand(of: (typeof schemas)[number]): Promise<void> {
  const schema: unknown = JSON.parse(await readFile(join(__dirname, files[of]), 'utf8'))
  await print(`${JSON.stringify(schema, null, 2)}\n`)
}
