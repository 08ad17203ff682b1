import { expect, test } from 'vitest'
import type { ResumeResult, WhatChangedResult } from '../../server/src/features/editorMessages.ts'
import { MemoryFiles, PlainClient } from './plainClient.ts'

const groove = (z: number) => `(blank: 60 x 40 x 14 mm, zero near-left face)
(bit 1: flat 6 mm, 2 flutes, cutting length 22, chip load 0.02-0.06)
G21 G90 G17
S16000 M3
G0 Z10
G0 X-5 Y20
Z${z}
G1 X30 F1200
X65
G0 Z10
M5
M2
`

test('a program is asked to start again from a line', async () => {
  const client = await PlainClient.start(new MemoryFiles())
  await client.open('a.nc', groove(-2))
  const result = await client.request<ResumeResult>('treen/resume', { uri: client.uri('a.nc'), line: 8 })
  expect('text' in result && result.text).toContain('G0 Z1.5\nX30 Y20\nZ1\nG1 Z-2 F280\nF1200\nG1 X65\nG0 Z10\n')
  const bare = groove(-2).split('\n').slice(2).join('\n')
  await client.change('a.nc', bare)
  const none = await client.request<ResumeResult>('treen/resume', { uri: client.uri('a.nc'), line: 8 })
  expect('why' in none && none.why).toContain('No job sheet names this program')
  expect(await client.stop()).toBe(true)
})

test('an edit is told by what it cuts', async () => {
  const client = await PlainClient.start(new MemoryFiles())
  await client.open('a.nc', groove(-2.5))
  const params = { uri: client.uri('a.nc'), before: groove(-2), since: 'the saved text' }
  const result = await client.request<WhatChangedResult>('treen/whatChanged', params)
  expect('page' in result && result.page).toContain('# What changed in a.nc\n\nCompared with the saved text.')
  // 60 x 6 x 0.5, by a pencil.
  expect('places' in result && result.places.map(({ way, volume }) => [way, Math.round(volume)])).toEqual([
    ['more', 180],
  ])
  expect(await client.stop()).toBe(true)
  expect(client.log).toEqual([])
})
