import {
  type Disposable,
  EventEmitter,
  type FileChangeEvent,
  FileChangeType,
  type FileStat,
  FileSystemError,
  type FileSystemProvider,
  FileType,
  Uri,
  workspace,
} from 'vscode'

export const sampleScheme = 'treen-sample'

/** The jobs that come with Treen: of each folder the texts of its files, by name. */
export type Samples = Readonly<Record<string, Readonly<Record<string, string>>>>

export async function shippedSamples(extension: Uri): Promise<Samples> {
  const bytes = await workspace.fs.readFile(Uri.joinPath(extension, 'dist/samples.json'))
  return JSON.parse(new TextDecoder().decode(bytes)) as Samples
}

interface Kept {
  bytes: Uint8Array
  changed: number
}

/**
 * The sample jobs as folders in memory, to be looked at and edited in both hosts without a question where to put them.
 * What is saved in them lasts until the window is closed.
 */
export class SampleFiles implements FileSystemProvider {
  readonly #samples: () => Promise<Samples>
  readonly #kept = new Map<string, Kept>()
  readonly #changes = new EventEmitter<FileChangeEvent[]>()
  readonly onDidChangeFile = this.#changes.event

  constructor(samples: () => Promise<Samples>) {
    this.#samples = samples
  }

  watch(): Disposable {
    return { dispose() {} }
  }

  async stat(uri: Uri): Promise<FileStat> {
    const [folder, name] = partsOf(uri)
    const files = (await this.#samples())[folder]
    if (folder !== '' && !files) throw FileSystemError.FileNotFound(uri)
    if (name === undefined) return { type: FileType.Directory, ctime: 0, mtime: 0, size: 0 }
    const { bytes, changed } = await this.#file(uri)
    return { type: FileType.File, ctime: 0, mtime: changed, size: bytes.length }
  }

  async readDirectory(uri: Uri): Promise<[string, FileType][]> {
    const [folder, name] = partsOf(uri)
    const samples = await this.#samples()
    if (folder === '') return Object.keys(samples).map(each => [each, FileType.Directory])
    if (name !== undefined || !samples[folder]) throw FileSystemError.FileNotFound(uri)
    return Object.keys(samples[folder]).map(each => [each, FileType.File])
  }

  async readFile(uri: Uri): Promise<Uint8Array> {
    return (await this.#file(uri)).bytes
  }

  async writeFile(uri: Uri, bytes: Uint8Array): Promise<void> {
    const kept = await this.#file(uri)
    kept.bytes = bytes
    // Never the same twice: by this the editor tells what it has saved from what someone else has.
    kept.changed = Math.max(Date.now(), kept.changed + 1)
    this.#changes.fire([{ type: FileChangeType.Changed, uri }])
  }

  createDirectory(uri: Uri): void {
    throw FileSystemError.NoPermissions(uri)
  }

  delete(uri: Uri): void {
    throw FileSystemError.NoPermissions(uri)
  }

  rename(uri: Uri): void {
    throw FileSystemError.NoPermissions(uri)
  }

  async #file(uri: Uri): Promise<Kept> {
    const [folder, name] = partsOf(uri)
    const known = this.#kept.get(uri.path)
    if (known) return known
    const text = name === undefined ? undefined : (await this.#samples())[folder]?.[name]
    if (text === undefined) throw FileSystemError.FileNotFound(uri)
    const fresh = { bytes: new TextEncoder().encode(text), changed: 1 }
    this.#kept.set(uri.path, fresh)
    return fresh
  }
}

/** Folder and name; no name for a folder. */
function partsOf({ path }: Uri): [string, string | undefined] {
  const [folder = '', ...rest] = path.split('/').filter(part => part !== '')
  return [folder, rest.length > 0 ? rest.join('/') : undefined]
}
