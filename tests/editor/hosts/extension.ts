import { cp, mkdir, rm } from 'node:fs/promises'
import { dirname, join } from 'node:path'
import { fileURLToPath } from 'node:url'
import { createVSIX, listFiles, PackageManager } from '@vscode/vsce'

export const root = fileURLToPath(new URL('../../..', import.meta.url))

/** Packs what a user installs; returns the path of the `.vsix`. */
export async function packExtension(folder: string): Promise<string> {
  await mkdir(folder, { recursive: true })
  const packagePath = join(folder, 'treen.vsix')
  // The pictures of the README go along; there is no repository to point its links at.
  await createVSIX({
    cwd: root,
    packagePath,
    dependencies: false,
    allowMissingRepository: true,
    rewriteRelativeLinks: false,
  })
  return packagePath
}

/** Lays out the same files as a folder, which is how a web host takes an extension. */
export async function layExtension(folder: string): Promise<string> {
  await rm(folder, { recursive: true, force: true })
  for (const file of await listFiles({ cwd: root, packageManager: PackageManager.None })) {
    await mkdir(dirname(join(folder, file)), { recursive: true })
    await cp(join(root, file), join(folder, file))
  }
  return folder
}
