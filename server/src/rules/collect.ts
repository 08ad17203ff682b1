import type { SheetDocument } from '../job/sheetDocument.ts'
import { type Range, rangeOf } from '../syntax/source.ts'
import type { Check, CheckOptions, Finding, Place, Report, Rule, Severity, Withheld } from './rule.ts'

/** What the engine knows of the place a rule spoke from. */
export interface Scene {
  /** URI of the program or sheet that the rule read. */
  readonly file: string
  /** URI of the sheet, where the finding is true of a job. */
  readonly sheet?: string
  readonly setup?: string
  /** '' where the blank lists none. */
  readonly copy?: string
}

const GRAVITY: Record<Severity, number> = { information: 0, warning: 1, error: 2 }

interface Raw extends Finding {
  readonly copiesFound: readonly string[]
}

/** Gathers what the rules say, makes findings of it, and folds the copies together. */
export class Collector {
  readonly withheld: Withheld[] = []
  private readonly raw = new Map<string, Raw>()
  private readonly ranOn = new Map<string, Set<string>>()

  constructor(
    readonly options: CheckOptions,
    private readonly document?: SheetDocument,
  ) {}

  isOff(rule: Rule): boolean {
    return this.options.severity?.[rule.id] === 'off'
  }

  /** Did that rule run over that file? */
  ran(code: string, file: string): boolean {
    return this.ranOn.get(code)?.has(file) ?? false
  }

  withhold(rule: Rule, scene: Scene, why: string): void {
    if (this.isOff(rule)) return
    const { file, sheet } = scene
    if (this.withheld.some(w => w.code === rule.id && w.file === file && w.sheet === sheet && w.why === why)) return
    this.withheld.push({ file, ...(sheet === undefined ? {} : { sheet }), code: rule.id, why })
  }

  /**
   * Runs one rule. What it says before it fails is dropped: half an answer reads like a whole one. A failure is our
   * own fault; it is reported as withheld and never hides what other rules found.
   */
  run(rule: Rule, scenes: readonly Scene[], check: Check): void {
    if (this.isOff(rule)) return
    const reports: Report[] = []
    try {
      check(report => reports.push(report))
    } catch (error) {
      const why = error instanceof Error ? error.message : String(error)
      for (const scene of scenes) this.withhold(rule, scene, `a fault in this rule itself: ${why}`)
      return
    }
    for (const scene of scenes) {
      const files = this.ranOn.get(rule.id) ?? new Set()
      this.ranOn.set(rule.id, files.add(scene.file))
      for (const report of reports) this.add(rule, scene, report)
    }
  }

  /** Notes that a rule which reads the whole job has read this program too. */
  noteRan(rule: Rule, file: string): void {
    if (this.isOff(rule)) return
    this.ranOn.set(rule.id, (this.ranOn.get(rule.id) ?? new Set()).add(file))
  }

  /** The findings so far, in the order of the files and their texts. `copies` are all those of the job. */
  findings(copies: readonly string[]): Finding[] {
    const made = [...this.raw.values()].map(({ copiesFound, ...finding }) => {
      const named = copiesFound.filter(copy => copy !== '')
      const all = copies.every(copy => copiesFound.includes(copy))
      return named.length === 0 || all ? finding : { ...finding, copies: named }
    })
    return made.sort(inOrder)
  }

  private add(rule: Rule, scene: Scene, report: Report): void {
    const at = this.place(report.at, scene.file)
    if (!at) return
    const severity = this.severityOf(rule, report)
    const setup = report.setup ?? scene.setup
    const found: Raw = {
      file: at.file,
      code: rule.id,
      severity,
      ...(scene.sheet === undefined ? {} : { sheet: scene.sheet }),
      ...(setup === undefined ? {} : { setup }),
      range: at.range,
      message: report.message,
      ...(report.found === undefined ? {} : { found: report.found }),
      ...(report.limit === undefined ? {} : { limit: report.limit }),
      ...(report.reach === undefined ? {} : { reach: report.reach }),
      related: (report.related ?? []).flatMap(({ place, message }) => {
        const there = this.place(place, scene.file)
        return there ? [{ ...there, message }] : []
      }),
      copiesFound: scene.copy === undefined ? [] : [scene.copy],
    }
    const { start, end } = found.range
    const key = [found.file, rule.id, severity, setup ?? '', start.line, start.character, end.line, end.character].join(
      '|',
    )
    const known = this.raw.get(key)
    if (!known) {
      this.raw.set(key, found)
      return
    }
    const worse = badness(found) > badness(known) + 1e-9 ? found : known
    this.raw.set(key, { ...worse, copiesFound: [...new Set([...known.copiesFound, ...found.copiesFound])] })
  }

  /**
   * What a person set replaces the rule's own severity. Where the rule itself says that this case is a mild one (only
   * the worst case breaks the limit), a setting never makes it graver.
   */
  private severityOf(rule: Rule, report: Report): Severity {
    const own = report.severity ?? rule.severity
    const set = this.options.severity?.[rule.id]
    if (set === undefined || set === 'off') return own
    const mild = report.severity !== undefined && GRAVITY[report.severity] < GRAVITY[rule.severity]
    return mild && GRAVITY[set] > GRAVITY[own] ? own : set
  }

  private place(at: Place, file: string): { file: string; range: Range } | undefined {
    if ('field' in at) return this.document && { file: this.document.uri, range: this.document.rangeOf(at.field) }
    if ('range' in at) return this.document && { file: this.document.uri, range: at.range }
    if ('program' in at) return { file: at.program, range: rangeOf(at.span) }
    return { file, range: rangeOf(at) }
  }
}

/** How far a finding is past its limit. */
function badness(finding: Finding): number {
  return Math.abs((finding.found ?? 0) - (finding.limit ?? 0))
}

function inOrder(a: Finding, b: Finding): number {
  return (
    compare(a.file, b.file) ||
    a.range.start.line - b.range.start.line ||
    a.range.start.character - b.range.start.character ||
    compare(a.code, b.code) ||
    compare(a.setup ?? '', b.setup ?? '')
  )
}

function compare(a: string, b: string): number {
  return a < b ? -1 : a > b ? 1 : 0
}
