import type { CopyOutcome, JobOutcome, Run } from '../job/outcome.ts'
import type { Sheet } from '../job/sheet.ts'
import type { SheetDocument } from '../job/sheetDocument.ts'
import type { Program } from '../machine/program.ts'
import { ALL_RULES } from './all.ts'
import { conclude, runTextRules, saidBefore } from './checkProgram.ts'
import { Collector, type Scene } from './collect.ts'
import type { CheckOptions, CheckResult, Report } from './rule.ts'

/** Checks a sheet as it is written, where no job could be made of it. */
export function checkSheet(document: SheetDocument, options: CheckOptions = {}): CheckResult {
  const collector = new Collector(options, document)
  runSheetRules(collector, document)
  for (const rule of ALL_RULES) {
    if (rule.reads === 'run' || rule.reads === 'job') {
      collector.withhold(rule, { file: document.uri, sheet: document.uri }, 'the job sheet has errors')
    }
  }
  return conclude(collector, new Map(), [])
}

/**
 * Checks a whole job: its sheet, the text of each of its programs, each run in the wood, each copy of the piece.
 * A finding that is true of several copies is one finding; the worst number stands in it.
 */
export function checkJob(job: JobOutcome, options: CheckOptions = {}): CheckResult {
  const collector = new Collector(options, job.document)
  runSheetRules(collector, { ...job.document, problems: [...job.document.problems, ...job.problems] })
  const programs = new Map<string, Program>()
  for (const { run } of job.copies.flatMap(copy => copy.setups)) if (run) programs.set(run.setup.program, run.program)
  for (const [file, program] of programs) runTextRules(collector, file, program)
  runRunRules(collector, job)
  for (const copy of job.copies) runJobRules(collector, job, copy)
  // Which figures could not be made is known, which rules would have spoken of them is not.
  for (const why of job.withheld)
    collector.withheld.push({ file: job.document.uri, sheet: job.document.uri, code: 'job', why })
  return conclude(
    collector,
    programs,
    job.copies.map(copy => copy.copy),
  )
}

function runSheetRules(collector: Collector, document: SheetDocument): void {
  for (const rule of ALL_RULES) {
    if (rule.reads !== 'sheet') continue
    collector.run(rule, [{ file: document.uri, sheet: document.uri }], report => rule.check(document, report))
  }
}

/** What the run rules said of a run under a sheet: a job that is checked again holds the runs that no edit touched. */
const SAID = new WeakMap<Run, { readonly sheet: Sheet; readonly said: Map<string, readonly Report[]> }>()

function saidOf(run: Run, sheet: Sheet): Map<string, readonly Report[]> {
  const known = SAID.get(run)
  if (known?.sheet === sheet) return known.said
  const said = new Map<string, readonly Report[]>()
  SAID.set(run, { sheet, said })
  return said
}

/** Each run once, however many copies share it (a blank without copies is cut the same way for all). */
function runRunRules(collector: Collector, job: JobOutcome): void {
  const scenes = new Map<Run, Scene[]>()
  for (const copy of job.copies) {
    for (const { run } of copy.setups) {
      if (!run) continue
      const of = scenes.get(run) ?? []
      scenes.set(run, of)
      of.push({ ...sceneOf(job, run.setup.program), setup: run.setup.name, copy: copy.copy })
    }
  }
  for (const [run, of] of scenes) {
    const why = whyNot(run.program)
    const said = saidOf(run, job.sheet)
    for (const rule of ALL_RULES) {
      if (rule.reads !== 'run') continue
      if (why) collector.withhold(rule, of[0], why)
      else
        collector.run(
          rule,
          of,
          saidBefore(said, rule.id, report => rule.check(run, job.sheet, report)),
        )
    }
  }
}

function runJobRules(collector: Collector, job: JobOutcome, copy: CopyOutcome): void {
  const runs = copy.setups.flatMap(({ run }) => (run ? [run] : []))
  const unsure = runs.find(run => whyNot(run.program))
  const scene = { ...sceneOf(job, job.document.uri), copy: copy.copy }
  for (const rule of ALL_RULES) {
    if (rule.reads !== 'job') continue
    if (unsure) {
      collector.withhold(rule, scene, `${fileName(unsure.setup.program)}: ${whyNot(unsure.program)}`)
      continue
    }
    collector.run(rule, [scene], report => rule.check(job, copy, report))
    for (const run of runs) collector.noteRan(rule, run.setup.program)
  }
}

/** A program that declares its own blank has no sheet to name. */
function sceneOf(job: JobOutcome, file: string): Scene {
  const { uri } = job.document
  const ownSheet = job.copies.some(copy => copy.setups.some(({ run }) => run?.setup.program === uri))
  return ownSheet ? { file } : { file, sheet: uri }
}

/** Why the path of a program cannot be trusted; undefined where it can. */
function whyNot(program: Program): string | undefined {
  if (program.forPrinter) return 'the program is for another kind of machine'
  const first = program.notSimulated[0]
  return first && `line ${first.span.line + 1} changes the path in a way that is not modelled: ${first.why}`
}

function fileName(uri: string): string {
  return uri.slice(uri.lastIndexOf('/') + 1)
}
