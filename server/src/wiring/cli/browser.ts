import { accessSync, constants } from 'node:fs'
import { delimiter, join } from 'node:path'

/** Says which browser is to be taken, where the one found is not the right one. */
export const BROWSER_VARIABLE = 'TREEN_BROWSER'

/** What browsers of the kind that can be driven without a window are called on a PATH. */
const NAMES = [
  'chromium',
  'chromium-browser',
  'google-chrome',
  'google-chrome-stable',
  'chrome',
  'chrome-headless-shell',
  'msedge',
  'microsoft-edge',
]

/** Where they stand when they are not on the PATH. */
const PLACES: Partial<Record<NodeJS.Platform, readonly string[]>> = {
  darwin: [
    '/Applications/Chromium.app/Contents/MacOS/Chromium',
    '/Applications/Google Chrome.app/Contents/MacOS/Google Chrome',
    '/Applications/Microsoft Edge.app/Contents/MacOS/Microsoft Edge',
  ],
  win32: [
    'C:\\Program Files\\Google\\Chrome\\Application\\chrome.exe',
    'C:\\Program Files (x86)\\Google\\Chrome\\Application\\chrome.exe',
    'C:\\Program Files (x86)\\Microsoft\\Edge\\Application\\msedge.exe',
  ],
}

/** The path of a browser that can draw a page without a window; undefined where none is there. */
export function findBrowser(
  environment: NodeJS.ProcessEnv = process.env,
  platform: NodeJS.Platform = process.platform,
): string | undefined {
  const named = environment[BROWSER_VARIABLE]
  if (named) return isProgram(named) ? named : undefined
  const endings = platform === 'win32' ? ['.exe'] : ['']
  for (const folder of (environment.PATH ?? '').split(delimiter).filter(Boolean)) {
    for (const name of NAMES) {
      for (const ending of endings) if (isProgram(join(folder, name + ending))) return join(folder, name + ending)
    }
  }
  return (PLACES[platform] ?? []).find(isProgram)
}

function isProgram(path: string): boolean {
  try {
    accessSync(path, constants.X_OK)
    return true
  } catch {
    return false
  }
}
