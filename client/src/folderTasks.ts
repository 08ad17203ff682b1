import {
  CustomExecution,
  EventEmitter,
  l10n,
  type Pseudoterminal,
  RelativePattern,
  Task,
  type TaskDefinition,
  TaskGroup,
  TaskScope,
  tasks,
  type WorkspaceFolder,
  workspace,
} from 'vscode'
import { type CheckFilesResult, checkFilesRequest } from '../../server/src/features/editorMessages.ts'
import type { Server } from './server.ts'

const type = 'treen'
const checkable = '**/*.{nc,ngc,gcode,tap,cnc,jobsheet.json}'
const elsewhere = '**/{node_modules,dist}/**'

/** What a task of ours says of itself in a folder's `tasks.json`. */
interface CheckDefinition extends TaskDefinition {
  /** Which files; all job sheets and programs without it. */
  readonly files?: string
}

/** Offers, for each folder, to check all its jobs as a build: also those that nobody has open. */
export function provideFolderTasks(server: Server) {
  return tasks.registerTaskProvider(type, {
    provideTasks: () => (workspace.workspaceFolders ?? []).map(folder => taskOf(server, { type }, folder)),
    resolveTask(task) {
      const folder = typeof task.scope === 'object' ? task.scope : workspace.workspaceFolders?.[0]
      return folder && taskOf(server, task.definition as CheckDefinition, folder)
    },
  })
}

function taskOf(server: Server, definition: CheckDefinition, folder: WorkspaceFolder): Task {
  const work = new CustomExecution(async () => new FolderCheck(server, folder, definition.files ?? checkable))
  const task = new Task(definition, folder ?? TaskScope.Workspace, l10n.t('check all jobs'), 'Treen', work, '$treen')
  task.group = TaskGroup.Build
  return task
}

/** The check of one folder by the server that is running, its findings as lines that the problem matcher reads. */
class FolderCheck implements Pseudoterminal {
  readonly #write = new EventEmitter<string>()
  readonly #close = new EventEmitter<number>()
  readonly onDidWrite = this.#write.event
  readonly onDidClose = this.#close.event
  #closed = false

  constructor(
    readonly server: Server,
    readonly folder: WorkspaceFolder,
    readonly files: string,
  ) {}

  async open(): Promise<void> {
    const found = await workspace.findFiles(new RelativePattern(this.folder, this.files), elsewhere)
    const uris = found.map(String).sort()
    let failed = false
    try {
      const params = { uris, folder: this.folder.uri.toString() }
      const { report, errors, findings } = await this.server.sendRequest<CheckFilesResult>(checkFilesRequest, params)
      this.#say(report)
      this.#say(l10n.t('{0} files checked: {1} findings, {2} of them errors', uris.length, findings, errors))
      failed = errors > 0
    } catch (error) {
      this.#say(error instanceof Error ? error.message : String(error))
      failed = true
    }
    if (!this.#closed) this.#close.fire(failed ? 1 : 0)
  }

  close(): void {
    this.#closed = true
  }

  #say(text: string): void {
    if (!this.#closed) this.#write.fire(`${text.trimEnd().replace(/\r?\n/g, '\r\n')}\r\n`)
  }
}
