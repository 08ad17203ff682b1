import { mkdir, mkdtemp, rm, writeFile } from 'node:fs/promises'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import type { Page } from 'playwright-core'
import { openBrowser } from './browser.ts'
import { layExtension, packExtension } from './extension.ts'
import { desktopHost, webHost } from './install.ts'
import { freePort, type Serving, serve } from './serving.ts'

/** A workbench that runs, with the extension in it and a folder open. */
export interface Started {
  readonly page: Page
  /** A folder of its own, below which all of it lies. */
  readonly home: string
  /** What the browser's console and the host have said, for when something fails. */
  log(): string
  stop(): Promise<void>
}

/** Installs the packed extension into a fresh desktop host and opens `folder` in it. */
export async function startDesktop(folder: string): Promise<Started> {
  const { node, entry } = await desktopHost()
  const home = await mkdtemp(join(tmpdir(), 'treen-desktop-'))
  const vsix = await packExtension(join(home, 'pack'))
  const places = [
    ['--user-data-dir', join(home, 'user')],
    ['--extensions-dir', join(home, 'extensions')],
    ['--config', join(home, 'config.yaml')],
  ].flat()
  await mkdir(join(home, 'user/User'), { recursive: true })
  await writeFile(join(home, 'user/User/settings.json'), JSON.stringify(quietSettings))
  const installing = await serve(node, [entry, ...places, '--install-extension', vsix], /successfully installed/)
  await installing.stop()
  const port = await freePort()
  const flags = ['--auth', 'none', '--disable-telemetry', '--disable-update-check', '--disable-workspace-trust']
  const args = [entry, ...places, ...flags, '--disable-getting-started-override', '--bind-addr', `127.0.0.1:${port}`]
  const server = await serve(node, [...args, folder], /HTTP server listening/)
  return look(`http://127.0.0.1:${port}/`, home, server)
}

/** Serves the extension's files to a fresh web host and opens `folder` in it, as a virtual file system. */
export async function startWeb(folder: string): Promise<Started> {
  const { server: entry, builds, commit } = await webHost()
  const home = await mkdtemp(join(tmpdir(), 'treen-web-'))
  const extensions = join(home, 'extensions')
  await layExtension(join(extensions, 'treen'))
  const port = await freePort()
  const build = ['--quality', 'stable', '--commit', commit, '--testRunnerDataDir', builds, '--esm', 'false']
  const args = [entry, '--browser', 'none', ...build, '--host', 'localhost', '--port', `${port}`]
  const server = await serve(process.execPath, [...args, '--extensionPath', extensions, folder], /Listening on/)
  return look(`http://localhost:${port}/`, home, server)
}

/** Nothing of the editor's own may open itself or move while a test looks. */
const quietSettings = {
  'workbench.startupEditor': 'none',
  'workbench.tips.enabled': false,
  'workbench.reduceMotion': 'on',
  'editor.minimap.enabled': false,
  'security.workspace.trust.enabled': false,
  'chat.commandCenter.enabled': false,
  'workbench.secondarySideBar.defaultVisibility': 'hidden',
}

async function look(address: string, home: string, server: Serving): Promise<Started> {
  const said: string[] = []
  const browser = await openBrowser(join(home, 'profile'))
  const page = browser.pages()[0] ?? (await browser.newPage())
  page.on('console', message => {
    // What the editor says of its own affairs buries what is said of ours.
    if (message.type() === 'error') said.push(message.text())
  })
  page.on('pageerror', error => said.push(`page error: ${error.message}`))
  page.setDefaultTimeout(120_000)
  await page.goto(address)
  await page.locator('.monaco-workbench .explorer-folders-view .monaco-list-row').first().waitFor()
  return {
    page,
    home,
    log: () => `${said.join('\n')}\n${server.said()}`,
    async stop() {
      await browser.close()
      await server.stop()
      await rm(home, { recursive: true, force: true })
    },
  }
}
