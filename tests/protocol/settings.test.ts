import { describe, expect, test } from 'vitest'
import { disc, raster, ring } from '../job/workedExample.ts'
import { codes, MemoryFiles, PlainClient } from './plainClient.ts'

const drilled = 'G21 G90 G17\nS16000 M3\nG0 Z5\nG81 X0 Y0 Z-1 R2 F300\nG80\nG0 Z5\nM5\nM2\n'
const plunging = `(blank: 60 x 60 x 20 mm)\n(bit 1: flat 6 mm)\n${drilled.replace('G81 X0 Y0 Z-1 R2 F300\nG80', 'G0 X9 Y9\nG0 Z-1')}`

/** A dish whose floor is 24 - 0.8 - 18.7 = 4.5 mm thick. */
const dish = (more: object = {}) =>
  JSON.stringify({
    bits: {
      1: { shape: 'flat', diameter: 6, maxPassDepth: 30, cuttingLength: 30, stickout: 45, chipLoad: [0.02, 0.12] },
    },
    blanks: { dish: { size: [80, 80, 24] }, plugs: { size: [40, 40, 18] } },
    setups: [
      { name: 'plug', blank: 'plugs', program: 'plug.nc', makes: 'plug', sawAt: 10.4 },
      { name: 'pocket', blank: 'dish', face: 'underside', program: 'pocket.nc', makes: 'pocket' },
      { name: 'glue', blank: 'dish', insert: { plug: 'plug', into: 'pocket', glueLine: 0.1 } },
      { name: 'level', blank: 'dish', face: 'underside', program: 'level.nc', makes: 'level' },
      { name: 'cavity', blank: 'dish', face: 'top', program: 'cavity.nc', makes: 'cavity' },
    ],
    ...more,
  })
const programs = {
  'plug.nc': ring(20, 20, 9.9, 10.4),
  'pocket.nc': disc(40, 40, 10, 10),
  'level.nc': raster(80, 80, 0.8),
  'cavity.nc': disc(40, 40, 20, 18.7),
}

/** A client that answers for its settings by folder, as an editor with several folders does. */
async function asked(files: MemoryFiles, settings: Record<string, object>): Promise<PlainClient> {
  const client = await PlainClient.start(files, { workspace: { configuration: true } })
  client.connection.onRequest(
    'workspace/configuration',
    ({ items }: { items: { scopeUri?: string; section?: string }[] }) =>
      items.map(({ scopeUri, section }) => {
        expect(section).toBe('treen')
        const folder = Object.keys(settings).find(name => scopeUri?.startsWith(client.uri(name)))
        return folder === undefined ? null : settings[folder]
      }),
  )
  return client
}

const changed = (client: PlainClient, settings: unknown = null) =>
  client.connection.sendNotification('workspace/didChangeConfiguration', { settings })

describe('settings', () => {
  test('each folder has its own dialect, and a change holds at once', async () => {
    const settings: Record<string, object> = { 'a/': { dialect: 'compact' }, 'b/': {} }
    const client = await asked(new MemoryFiles(), settings)
    await client.open('a/one.nc', drilled)
    await client.open('b/one.nc', drilled)
    const inA = await client.until('a/one.nc', list => list.length > 0)
    expect(codes(inA)).toContain('syntax/not-in-dialect')
    expect(client.shown.get(client.uri('b/one.nc')) ?? []).toEqual([])
    Object.assign(settings, { 'a/': {}, 'b/': { dialect: 'compact' } })
    await changed(client)
    await client.until('a/one.nc', list => list.length === 0)
    await client.until('b/one.nc', list => codes(list).includes('syntax/not-in-dialect'))
    expect(await client.stop()).toBe(true)
    expect(client.log).toEqual([])
  })

  test('severity by folder: graver, milder, off', async () => {
    const settings: Record<string, object> = { 'a/': {}, 'b/': { severity: { 'plunge/rapid': 'information' } } }
    const client = await asked(new MemoryFiles(), settings)
    await client.open('a/one.nc', plunging)
    await client.open('b/one.nc', plunging)
    const of = (list: readonly { code?: unknown; severity?: number }[]) =>
      list.find(({ code }) => code === 'plunge/rapid')?.severity
    await client.until('a/one.nc', list => of(list) === 1)
    await client.until('b/one.nc', list => of(list) === 3)
    settings['a/'] = { severity: { 'plunge/rapid': 'off' } }
    await changed(client)
    await client.until('a/one.nc', list => of(list) === undefined)
    expect(of(client.shown.get(client.uri('b/one.nc')) ?? [])).toBe(3)
    expect(await client.stop()).toBe(true)
  })

  test('limits hold where the sheet is silent; the sheet wins', async () => {
    const folders = (sheet: string) =>
      Object.entries({ ...programs, 'dish.jobsheet.json': sheet }).map(([name, text]) => [name, text] as const)
    const files = new MemoryFiles({
      ...Object.fromEntries(folders(dish()).map(([name, text]) => [`silent/${name}`, text])),
      ...Object.fromEntries(folders(dish({ limits: { floor: 4.2 } })).map(([name, text]) => [`says/${name}`, text])),
    })
    const settings: Record<string, object> = { '': {} }
    const client = await asked(files, settings)
    const thin = (list: readonly { code?: unknown; severity?: number }[]) =>
      list.some(({ code, severity }) => code === 'depth/thin-floor' && severity === 1)
    for (const folder of ['silent', 'says']) await client.open(`${folder}/cavity.nc`, programs['cavity.nc'])
    for (const folder of ['silent', 'says'])
      await client.until(`${folder}/cavity.nc`, list => list.length > 0 && !thin(list))
    settings[''] = { limits: { floor: 5 } }
    await changed(client)
    const shown = await client.until('silent/cavity.nc', thin)
    expect(shown.find(({ code }) => code === 'depth/thin-floor')?.message).toContain('5 mm')
    expect(thin(client.shown.get(client.uri('says/cavity.nc')) ?? [])).toBe(false)
    settings[''] = { limits: { floor: 4 } }
    await changed(client)
    await client.until('silent/cavity.nc', list => !thin(list))
    expect(await client.stop()).toBe(true)
    expect(client.log).toEqual([])
  })

  test('a sheet is judged by the settings of its own folder, whichever program of it is open', async () => {
    const sheet = dish().replaceAll('"program":"', '"program":"parts/')
    const files = new MemoryFiles({
      'dish.jobsheet.json': sheet,
      ...Object.fromEntries(Object.entries(programs).map(([name, text]) => [`parts/${name}`, text])),
    })
    const client = await asked(files, {
      'parts/': { limits: { floor: 9 } },
      'dish.jobsheet.json': { limits: { floor: 5 } },
    })
    await client.open('parts/cavity.nc', programs['cavity.nc'])
    const shown = await client.until('parts/cavity.nc', list => codes(list).includes('depth/thin-floor'))
    expect(shown.find(({ code }) => code === 'depth/thin-floor')?.message).toContain('5 mm')
    expect(await client.stop()).toBe(true)
  })

  test("the folder's dialect holds where a sheet does not say; the sheet wins", async () => {
    const sheet = (machine: object) =>
      JSON.stringify({
        machine,
        bits: { 1: { shape: 'flat', diameter: 6 } },
        blanks: { board: { size: [60, 60, 20] } },
        setups: [{ name: 'holes', blank: 'board', program: 'holes.nc' }],
      })
    // Without its end, so that there is something to be said of it in either dialect.
    const endless = drilled.replace('M2\n', '')
    const files = new MemoryFiles({
      'silent/holes.nc': endless,
      'silent/board.jobsheet.json': sheet({}),
      'says/holes.nc': endless,
      'says/board.jobsheet.json': sheet({ dialect: 'rs274ngc' }),
    })
    const settings: Record<string, object> = { '': { dialect: 'compact' } }
    const client = await asked(files, settings)
    for (const folder of ['silent', 'says']) await client.open(`${folder}/holes.nc`, endless)
    await client.until('silent/holes.nc', list => codes(list).includes('syntax/not-in-dialect'))
    await client.until('says/holes.nc', list => codes(list).includes('program/no-end'))
    expect(codes(client.shown.get(client.uri('says/holes.nc')) ?? [])).not.toContain('syntax/not-in-dialect')
    expect(await client.stop()).toBe(true)
    expect(client.log).toEqual([])
  })

  test('an editor that tells of changes on request is asked to', async () => {
    const client = await PlainClient.start(new MemoryFiles(), {
      workspace: { configuration: true, didChangeConfiguration: { dynamicRegistration: true } },
    })
    const asked = new Promise<readonly { method: string; registerOptions?: unknown }[]>(resolve =>
      client.connection.onRequest('client/registerCapability', ({ registrations }) => {
        resolve(registrations)
        return null
      }),
    )
    expect(await asked).toMatchObject([
      { method: 'workspace/didChangeConfiguration', registerOptions: { section: 'treen' } },
    ])
    expect(await client.stop()).toBe(true)
  })

  test('a client that cannot be asked tells them', async () => {
    const client = await PlainClient.start(new MemoryFiles())
    await client.open('one.nc', drilled)
    await changed(client, { treen: { dialect: 'compact' } })
    await client.until('one.nc', list => codes(list).includes('syntax/not-in-dialect'))
    await changed(client, { dialect: 'rs274ngc' })
    await client.until('one.nc', list => list.length === 0)
    expect(await client.stop()).toBe(true)
  })
})
