import { expect, test } from 'vitest'
import { checkUnit, newKept } from '../../../server/src/features/check.ts'
import { fixAll } from '../../../server/src/features/fixes/fixAll.ts'
import { fixesFor } from '../../../server/src/features/fixes/fixesFor.ts'
import type { Trial } from '../../../server/src/features/fixes/trial.ts'
import { edited } from '../../../server/src/features/rewrites/source.ts'
import type { Finding } from '../../../server/src/rules/rule.ts'
import { makeJob } from '../../faults/jobs.ts'
import { KINDS } from '../../faults/kinds/all.ts'
import { Chance } from '../../faults/random.ts'
import { memoryWorkspace } from '../../job/memoryWorkspace.ts'
import { SETTINGS } from '../sheet/bench.ts'

const SEED = Number(process.env.FAULTS_SEED ?? 7)
/** The share of these kinds that is planted: what a minute has room for. `FAULTS_EVERY=1` has all of them. */
const EVERY = Number(process.env.FAULTS_EVERY ?? 7)
/** Slips whose cure may be known from what stands there; a wrong coordinate is not one of them. */
const MAY_BE_CURED = [
  'last digit of a centre off',
  'sign lost in I or J',
  'sign gained in I or J',
  'I and J swapped',
  'centre forgotten',
  'a word twice',
  'a note without brackets',
  'comma for the decimal point',
  'letter O for zero',
  'G0 for G1',
  'an F word lost',
  'a feed times ten',
  'a feed a tenth',
  'a retract too low',
  'a retract into the wood',
  'the text of a comment not closed',
  'no feed at all',
  'no speed at all',
  'spindle never switched on',
  'every feed times ten',
  'speed times ten',
  'units not said',
  'no end',
  'the first lift left out',
  'the last lift left out',
  'a level left out',
]

const FOLDER = 'file:///job/'

/** What is kept from one check to the next, as an editor does: most of the job is the same. */
const kept = newKept()

async function trialOf(files: Readonly<Record<string, string>>, sheet: string): Promise<Trial> {
  const workspace = memoryWorkspace(files)
  return { workspace, kept, settings: SETTINGS, checked: await checkUnit(workspace, FOLDER + sheet, SETTINGS, kept) }
}

/** How often each thing is found, by its own reckoning. */
function countsOf(findings: readonly Finding[]): Map<string, number> {
  const counts = new Map<string, number>()
  for (const { file, code, setup } of findings) {
    const key = `${file} ${code} ${setup ?? ''}`
    counts.set(key, (counts.get(key) ?? 0) + 1)
  }
  return counts
}

test(`every fix that is offered for a planted fault cures it and raises none; all of them come to an end (seed ${SEED})`, async () => {
  const job = makeJob(0, new Chance(SEED))
  const offered: string[] = []
  let faults = 0
  for (const [k, name] of MAY_BE_CURED.entries()) {
    if (k % EVERY !== SEED % EVERY) continue
    const kind = KINDS.find(each => each.name === name)!
    const mutant = kind.plant(job, new Chance(SEED * 1_000_003 + k))
    if (!mutant) continue
    faults++
    const files = Object.fromEntries(mutant.files)
    const trial = await trialOf(files, job.sheet)
    const before = countsOf(trial.checked.findings)
    for (const finding of trial.checked.findings.slice(0, 4)) {
      for (const { title, file, edits } of await fixesFor(trial, finding)) {
        offered.push(`${kind.name}: ${title}`)
        const name = file.slice(FOLDER.length)
        const mended = await trialOf({ ...files, [name]: edited(files[name], edits) }, job.sheet)
        const after = countsOf(mended.checked.findings)
        const own = `${finding.file} ${finding.code} ${finding.setup ?? ''}`
        const milder = mended.checked.findings.filter(
          each => each.code === finding.code && each.severity === finding.severity,
        )
        const was = trial.checked.findings.filter(
          each => each.code === finding.code && each.severity === finding.severity,
        )
        expect(milder.length, `${kind.name}: ${title}`).toBeLessThan(was.length)
        for (const [key, count] of after) {
          expect(count, `${kind.name}: ${title}: ${key} besides ${own}`).toBeLessThanOrEqual(before.get(key) ?? 0)
        }
      }
    }
    const file = FOLDER + mutant.file
    // More than a few take longer than a test has.
    if (trial.checked.findings.length > 4) continue
    const { text, fixed } = await fixAll(trial, file)
    if (fixed === 0) continue
    const again = await trialOf({ ...files, [mutant.file]: text }, job.sheet)
    expect(again.checked.findings.length, kind.name).toBeLessThan(trial.checked.findings.length)
    expect((await fixAll(again, file)).fixed, `${kind.name}: all fixes, once more`).toBe(0)
  }
  expect(faults).toBeGreaterThan(1)
  expect(offered.length, 'fixes offered').toBeGreaterThan(0)
  if (process.env.FAULTS_SHOW !== undefined) console.log(faults, offered.join('\n'))
}, 240_000)
