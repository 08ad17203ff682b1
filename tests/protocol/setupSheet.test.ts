import { describe, expect, test } from 'vitest'
import { type SetupSheetResult, setupSheetRequest } from '../../server/src/features/editorMessages.ts'
import { DISH_TEXT } from '../features/sheet/bench.ts'
import { DISH_PROGRAMS } from '../rules/dish.ts'
import { MemoryFiles, PlainClient } from './plainClient.ts'

const name = 'dish.jobsheet.json'

describe('the set-up sheet in a plain client', () => {
  test('is that of the job of an open text, as it stands in the editor', async () => {
    const client = await PlainClient.start(new MemoryFiles({ [name]: DISH_TEXT, ...DISH_PROGRAMS }))
    const text = DISH_PROGRAMS['cavity.nc'].replaceAll('Z-16', 'Z-15')
    const ask = () =>
      client.request<SetupSheetResult>(setupSheetRequest, { uri: client.uri('cavity.nc'), nonce: 'only-once' })
    expect(await ask()).toEqual({ why: expect.stringContaining('Open the program') })
    await client.open('cavity.nc', text)
    const answer = await ask()
    const page = 'page' in answer ? answer.page.replaceAll('\u00a0', ' ') : ''
    expect(page).toContain("style-src 'nonce-only-once'")
    expect(page).toContain('<td>Depth of the cavity under the face</td><td>15.0 mm</td>')
    expect(await client.stop()).toBe(true)
  })

  test('says why there is none', async () => {
    const client = await PlainClient.start(new MemoryFiles({ 'bare.nc': 'G21 G90\nM30\n' }))
    await client.open('bare.nc', 'G21 G90\nM30\n')
    const answer = await client.request<SetupSheetResult>(setupSheetRequest, { uri: client.uri('bare.nc'), nonce: 'n' })
    expect(answer).toEqual({ why: expect.stringContaining('No job sheet names this program') })
    expect(await client.stop()).toBe(true)
  })
})
