import { expect, test } from 'vitest'
import packageJson from '../../package.json' with { type: 'json' }
import { type CheckFilesResult, checkFilesRequest } from '../../server/src/features/editorMessages.ts'
import { MemoryFiles, PlainClient } from './plainClient.ts'

const bare = 'G21 G90 G94\nG0 Z5\nM30\n'
const [{ pattern }] = packageJson.contributes.problemMatchers

test('a folder is checked as a build, with texts as the editor holds them, in lines that the problem matcher reads', async () => {
  const client = await PlainClient.start(new MemoryFiles({ 'a.nc': bare, 'my trays/b 1.nc': bare }))
  const folder = client.uri('a.nc').replace(/\/a\.nc$/, '')
  const ask = () =>
    client.request<CheckFilesResult>(checkFilesRequest, {
      uris: [client.uri('a.nc'), client.uri('my trays/b 1.nc')],
      folder,
    })
  expect(await ask()).toEqual({ report: '', errors: 0, findings: 0 })
  await client.open('my trays/b 1.nc', bare.replace('Z5', 'Z--5'))
  const { report, errors, findings } = await ask()
  expect(errors).toBeGreaterThan(0)
  const lines = report.trimEnd().split('\n')
  expect(lines.length).toBe(findings)
  for (const line of lines) {
    const parts = new RegExp(pattern.regexp).exec(line) ?? []
    expect(parts[pattern.file]).toBe('my trays/b 1.nc')
    expect(parts[pattern.line]).toBe('2')
    expect(parts[pattern.code]).toMatch(/^syntax\//)
  }
  expect(await client.stop()).toBe(true)
})
