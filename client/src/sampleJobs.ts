import { commands, l10n, type QuickPickItem, Uri, window, workspace } from 'vscode'
import { type Samples, sampleScheme } from './sampleFiles.ts'

interface SampleJob {
  /** Its folder. */
  readonly name: string
  /** What is shown of it first. */
  readonly first: string
  readonly label: () => string
  readonly about: () => string
}

const jobs: readonly SampleJob[] = [
  {
    name: 'fern-dish-first-draft',
    first: 'cavity.nc',
    label: () => l10n.t('Fern dish, first draft'),
    about: () => l10n.t('walnut in maple, with fourteen slips to find'),
  },
  {
    name: 'fern-dish-one-slip',
    first: 'cavity.nc',
    label: () => l10n.t('Fern dish, one slip'),
    about: () => l10n.t('a cavity too deep, and the fix that Treen offers for it'),
  },
  {
    name: 'fern-dish',
    first: 'fern-dish.jobsheet.json',
    label: () => l10n.t('Fern dish'),
    about: () => l10n.t('the same with every number right'),
  },
  {
    name: 'crescent-tray',
    first: 'crescent-tray.jobsheet.json',
    label: () => l10n.t('Crescent tray'),
    about: () => l10n.t('resin in cherry, its programs in inches'),
  },
  {
    name: 'single-program',
    first: 'coaster.nc',
    label: () => l10n.t('Coaster'),
    about: () => l10n.t('one program that says its own blank and bit'),
  },
]

/** Opens a sample job as it came, in memory; gives the text that is in front then. */
export async function openSampleJob(name: unknown): Promise<Uri | undefined> {
  const job = jobs.find(each => each.name === name) ?? (await pick(l10n.t('Which sample job do you want to look at?')))
  if (!job) return undefined
  const uri = Uri.from({ scheme: sampleScheme, path: `/${job.name}/${job.first}` })
  await window.showTextDocument(uri, { preview: false })
  return uri
}

/** Copies a sample job into a folder that the person chooses; nothing that is there is overwritten. */
export async function copySampleJob(samples: () => Promise<Samples>): Promise<void> {
  const job = await pick(l10n.t('Which sample job do you want to copy?'))
  if (!job) return
  const [folder] =
    (await window.showOpenDialog({
      canSelectFolders: true,
      canSelectFiles: false,
      defaultUri: workspace.workspaceFolders?.[0]?.uri,
      openLabel: l10n.t('Copy the Sample Here'),
      title: l10n.t('Copy {0} into…', job.label()),
    })) ?? []
  if (!folder) return
  const target = await freeFolder(folder, job.name)
  for (const [name, text] of Object.entries((await samples())[job.name])) {
    await workspace.fs.writeFile(Uri.joinPath(target, name), new TextEncoder().encode(text))
  }
  await window.showTextDocument(Uri.joinPath(target, job.first), { preview: false })
  if (workspace.getWorkspaceFolder(target)) return
  const open = l10n.t('Open This Folder')
  const message = l10n.t('The sample is in {0}.', target.scheme === 'file' ? target.fsPath : target.path)
  if ((await window.showInformationMessage(message, open)) === open) {
    await commands.executeCommand('vscode.openFolder', target)
  }
}

async function pick(placeHolder: string): Promise<SampleJob | undefined> {
  const items = jobs.map((job): QuickPickItem & { job: SampleJob } => ({
    label: job.label(),
    description: job.about(),
    job,
  }))
  return (await window.showQuickPick(items, { placeHolder, matchOnDescription: true, ignoreFocusOut: true }))?.job
}

/** The name itself, or the first with a number after it that nothing has yet. */
async function freeFolder(folder: Uri, name: string): Promise<Uri> {
  for (let count = 1; ; count++) {
    const uri = Uri.joinPath(folder, count === 1 ? name : `${name}-${count}`)
    try {
      await workspace.fs.stat(uri)
    } catch {
      return uri
    }
  }
}
