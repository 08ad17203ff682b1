import { mkdir, writeFile } from 'node:fs/promises'
import { join } from 'node:path'
import { type BrowserContext, chromium } from 'playwright-core'
import { browserPath } from './install.ts'

const flags = [
  '--no-sandbox',
  '--use-gl=angle',
  '--use-angle=swiftshader',
  '--enable-unsafe-swiftshader',
  '--disable-quic',
  '--no-first-run',
  '--disable-background-networking',
  '--disable-component-update',
  '--disable-sync',
  '--disable-dev-shm-usage',
]

/** A browser with a fresh profile of its own in `folder`, drawing WebGL in software. */
export async function openBrowser(folder: string): Promise<BrowserContext> {
  // The web host shows its webviews from another origin, and they need their storage.
  const preferences = { profile: { cookie_controls_mode: 0, block_third_party_cookies: false } }
  await mkdir(join(folder, 'Default'), { recursive: true })
  await writeFile(join(folder, 'Default/Preferences'), JSON.stringify(preferences))
  return chromium.launchPersistentContext(folder, {
    executablePath: browserPath(),
    args: flags,
    headless: true,
    viewport: { width: 1400, height: 900 },
  })
}
