import { l10n, Position, ProgressLocation, type QuickPickItem, Range, type TextEditor, window } from 'vscode'
import {
  type OperationResult,
  type OperationsResult,
  operationRequest,
  operationsRequest,
} from '../../server/src/features/editorMessages.ts'
import type { Server } from './server.ts'

type Insertable = Extract<OperationsResult, { operations: unknown }>['operations'][number]
type Parameter = Insertable['parameters'][number]

/**
 * Asks which operation to cut at the caret and with which numbers, each reckoned from the job, and writes its lines
 * before the line of the caret. What the job's check would find in it is said before it is written.
 */
export async function insertOperation(server: Server): Promise<void> {
  const editor = window.activeTextEditor
  if (editor?.document.languageId !== 'gcode') return
  const { uri, version } = editor.document
  const { line } = editor.selection.active
  const found = await server.sendRequest<OperationsResult>(operationsRequest, { uri: uri.toString(), line })
  if ('why' in found) return tell(found.why)
  const chosen = await choose(found.operations)
  const values = chosen && (await ask(chosen))
  if (!chosen || !values) return
  const title = l10n.t('Reckoning: {0}', chosen.title)
  const params = { uri: uri.toString(), line, id: chosen.id, values }
  const result = await window.withProgress({ location: ProgressLocation.Window, title }, () =>
    server.sendRequest<OperationResult>(operationRequest, params),
  )
  if ('why' in result) return tell(result.why)
  if (result.raises.length > 0) {
    const insert = l10n.t('Insert Anyway')
    const warning = l10n.t('The check would find with this: {0}', result.raises.join(' '))
    if ((await window.showWarningMessage(warning, { modal: true }, insert)) !== insert) return
  }
  if (editor.document.version !== version)
    return tell(l10n.t('The program was changed meanwhile; nothing was inserted.'))
  await write(editor, line, result.text)
}

async function tell(why: string): Promise<void> {
  await window.showInformationMessage(why)
}

async function choose(operations: readonly Insertable[]): Promise<Insertable | undefined> {
  const items = operations.map((operation): QuickPickItem & { operation: Insertable } => {
    return { label: operation.title, detail: operation.about, operation }
  })
  return (await window.showQuickPick(items, { placeHolder: l10n.t('What to cut here'), matchOnDetail: true }))
    ?.operation
}

/** All numbers as reckoned, or changed one by one; undefined where the person gives up. */
async function ask({ title, parameters }: Insertable): Promise<Record<string, number> | undefined> {
  const values = new Map(parameters.map(({ name, value }) => [name, value]))
  // An icon, and the words.
  const done = ['$(check)', l10n.t('Insert with these numbers')].join(' ')
  for (;;) {
    const items: (QuickPickItem & { parameter?: Parameter })[] = [
      { label: done },
      ...parameters.map(parameter => ({
        label: parameter.title,
        description: `${values.get(parameter.name)} ${parameter.unit}`.trim(),
        parameter,
      })),
    ]
    const chosen = await window.showQuickPick(items, { title, placeHolder: l10n.t('Choose a number to change it') })
    if (!chosen) return undefined
    if (!chosen.parameter) return Object.fromEntries(values)
    const value = await askOne(title, chosen.parameter, values.get(chosen.parameter.name) ?? 0)
    if (value !== undefined) values.set(chosen.parameter.name, value)
  }
}

async function askOne(title: string, parameter: Parameter, value: number): Promise<number | undefined> {
  const unit = parameter.unit === '' ? '' : `, ${parameter.unit}`
  const written = await window.showInputBox({
    title,
    prompt: `${parameter.title}${unit}`,
    value: String(value),
    validateInput: text => whyNot(parameter, numberIn(text)),
  })
  return written === undefined ? undefined : numberIn(written)
}

/** A comma is a point in half the world. */
const numberIn = (text: string) => (text.trim() === '' ? Number.NaN : Number(text.trim().replace(',', '.')))

function whyNot({ least, most, count }: Parameter, value: number): string | undefined {
  if (!Number.isFinite(value) || (count && !Number.isInteger(value))) return l10n.t('A number is wanted.')
  if (least !== undefined && value < least) return l10n.t('At least {0}.', least)
  if (most !== undefined && value > most) return l10n.t('At most {0}.', most)
  return undefined
}

async function write(editor: TextEditor, line: number, text: string): Promise<void> {
  const at = new Position(line, 0)
  if (await editor.edit(builder => builder.insert(at, text))) editor.revealRange(new Range(at, at))
}
