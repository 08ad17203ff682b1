import { browserPath, desktopHost, webHost } from './install.ts'

/** Before any test: everything that the tests stand on is there, or the run fails and says what is missing. */
export default async function setup(): Promise<void> {
  browserPath()
  await desktopHost()
  await webHost()
}
