import type { Finding } from '../../rules/rule.ts'
import { type Edit, edited } from '../rewrites/source.ts'
import { fixesFor, isChoice, isFixable } from './fixesFor.ts'
import { checkedWith, type Trial } from './trial.ts'

/** More rounds than this are not waited for. */
const MOST_ROUNDS = 40

/** A text that has been mended as far as can be, and how often. */
export interface Mended {
  readonly text: string
  readonly fixed: number
}

/**
 * Applies the first fix of every finding in a file, one after the other, each tried on what the one before has left; of
 * one kind only, where a code is given. Every fix makes the findings fewer, so that it ends.
 */
export async function fixAll(trial: Trial, file: string, code?: string): Promise<Mended> {
  let { checked } = trial
  const bytes = await trial.workspace.read(file)
  let text = bytes ? new TextDecoder().decode(bytes) : ''
  let fixed = 0
  /** Findings for which nothing was to be had, and after how many fixes that was. */
  const hopeless = new Map<string, number>()
  for (let round = 0; round < MOST_ROUNDS; round++) {
    const now = text
    const workspace = {
      read: async (uri: string) => (uri === file ? new TextEncoder().encode(now) : trial.workspace.read(uri)),
      list: (folder: string) => trial.workspace.list(folder),
    }
    const found = checked.findings.filter(
      each => each.file === file && (code ?? each.code) === each.code && isFixable(each.code),
    )
    // What was tried longest ago comes last: most fixes change nothing for the others.
    const due = (finding: Finding) => hopeless.get(keyOf(finding)) ?? -1
    const inTurn = found.filter(each => due(each) < fixed).sort((a, b) => due(a) - due(b))
    let edits: readonly Edit[] | undefined
    for (const finding of inTurn) {
      const fixes = await fixesFor({ ...trial, workspace, checked }, finding)
      // Where only a person can choose, nothing is chosen.
      if (!isChoice(finding.code) || fixes.length === 1) edits = fixes.find(each => each.file === file)?.edits
      if (edits) break
      hopeless.set(keyOf(finding), fixed)
    }
    if (!edits) break
    text = edited(text, edits)
    fixed++
    checked = await checkedWith(trial, file, text)
  }
  return { text, fixed }
}

const keyOf = ({ code, message }: Finding) => `${code} ${message}`

/** The one edit between two texts: the lines from the first to the last that differ. */
export function difference(before: string, after: string): readonly Edit[] {
  if (before === after) return []
  const split = (text: string) => text.split(/(?<=\r\n|\n|\r(?!\n))/)
  const [old, fresh] = [split(before), split(after)]
  let first = 0
  while (first < old.length && first < fresh.length && old[first] === fresh[first]) first++
  let tail = 0
  while (tail < old.length - first && tail < fresh.length - first && old.at(-1 - tail) === fresh.at(-1 - tail)) tail++
  const start = { line: first, character: 0 }
  const last = old.length - tail
  const atEnd = last === old.length && !/[\r\n]$/.test(before)
  const end = atEnd ? { line: last - 1, character: old[last - 1]?.length ?? 0 } : { line: last, character: 0 }
  return [
    { range: { start, end: last === first ? start : end }, text: fresh.slice(first, fresh.length - tail).join('') },
  ]
}
